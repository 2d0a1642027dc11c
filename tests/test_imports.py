"""The shape of the code: imports go one way, and only the command prints or exits."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

import setdown

PACKAGE = Path(setdown.__file__).parent
MODULES = sorted(PACKAGE.rglob("*.py"))
COMMAND = [PACKAGE / "cli", PACKAGE / "__main__.py"]


def is_of_the_command(module: Path) -> bool:
    return any(part == module or part in module.parents for part in COMMAND)


def test_imports_go_one_way(repository):
    """The layers that pyproject.toml names hold: cli > pipeline > stages > sheet > lexicon > model > files > errors."""
    linter = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run([linter, "--no-cache"], cwd=repository, capture_output=True, check=False, encoding="utf-8")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "1 kept, 0 broken" in done.stdout


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.relative_to(PACKAGE).as_posix())
def test_only_the_command_prints_or_exits(module):
    """No other module calls print, input, exit or quit, raises SystemExit, or uses the standard streams to write."""
    if is_of_the_command(module):
        return
    found = [f"line {node.lineno}: {what}" for node, what in find_output(ast.parse(module.read_text(encoding="utf-8")))]
    assert found == []


def test_the_search_finds_what_it_is_for():
    """The check above can fail: each forbidden way is found."""
    ways = (
        "print(1)",
        "input()",
        "exit()",
        "quit(1)",
        "raise SystemExit(1)",
        "import sys; sys.exit(2)",
        "import os; os._exit(2)",
        "import sys; sys.stdout.write('x')",
        "import sys; print('x', file=sys.stderr)",
        "from sys import exit as leave",
    )
    for way in ways:
        assert list(find_output(ast.parse(way))), way
    assert not list(find_output(ast.parse("import sys; sys.stdin.buffer.read(); sys.path; out.print()")))


def find_output(tree: ast.AST):
    """Nodes that print or exit, with what they do."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Name) and node.id in ("print", "input", "exit", "quit", "SystemExit"):
            yield node, node.id
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            name = f"{node.value.id}.{node.attr}"
            if name in ("sys.exit", "sys.stdout", "sys.stderr", "os._exit", "os.abort"):
                yield node, name
        elif isinstance(node, ast.ImportFrom) and node.module in ("sys", "os"):
            for alias in node.names:
                if alias.name in ("exit", "stdout", "stderr", "_exit"):
                    yield node, f"{node.module}.{alias.name}"
