"""From bytes to plain values, each with its line and column; mistakes as data; plain data back to text.

`strict_yaml` reads, `document` holds, `problems` and `excerpt` tell what is wrong, `printer` writes.
Nothing here knows of racing.
"""
