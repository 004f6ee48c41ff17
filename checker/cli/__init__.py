"""The command line: one thin file per command, which reads arguments, calls the library and prints.

main      the entry point: runs a command and turns whatever happens into an exit code
program   the commands and where each is found; a command is loaded only when it is asked for
exits     the table of exit codes
output    results to stdout or a file; everything else to stderr
options   what several commands share
"""
