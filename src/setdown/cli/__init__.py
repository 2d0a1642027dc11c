"""The ``setdown`` command: one file per subcommand. The only part of the project that prints or exits.

Subcommands import what they need inside their function, so that ``setdown version`` and ``--help`` stay quick.
"""
