"""``python -m setdown`` is the ``setdown`` command."""

from setdown.cli.main import main

if __name__ == "__main__":
    main()
