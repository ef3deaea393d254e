"""`python -m specrules` is the command `specrules`."""

from specrules.cli import main

if __name__ == "__main__":
    main()
