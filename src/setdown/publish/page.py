"""The plan as one HTML page that needs nothing else: it prints on A4 and Letter, and reads on a telephone.

Every text goes through the template's escaping; the page carries a policy that forbids scripts and anything from
elsewhere, should some text get past it all the same.
"""

from __future__ import annotations

from functools import cache
from importlib import resources
from typing import Any

from jinja2 import Environment, StrictUndefined, Template

from setdown.publish.fixed_text import load_strings
from setdown.publish.inert import dump_json_script
from setdown.publish.plan_parts import Plan


def format_plan_page(plan: Plan, linked: dict[str, Any]) -> str:
    """The page, with the linked data in its head."""
    template, css = _load_template()
    return template.render(
        plan=plan,
        t=load_strings(plan.language),
        css=css,
        linked=dump_json_script(linked),
        strip_words=", ".join(f"{span.title} {span.share:.0%}" for span in plan.strip),
    )


@cache
def _load_template() -> tuple[Template, str]:
    folder = resources.files("setdown.publish").joinpath("templates")
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=False, keep_trailing_newline=True)
    page = folder.joinpath("plan.html.j2").read_text(encoding="utf-8")
    return environment.from_string(page), folder.joinpath("plan.css").read_text(encoding="utf-8")
