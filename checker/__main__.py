"""`python -m checker`."""

from checker.cli.main import run

if __name__ == "__main__":
    run()
