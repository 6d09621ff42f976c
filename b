/dev/fd/3: line 94: ./fettle1: No such file or directory
