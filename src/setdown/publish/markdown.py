"""The plan as Markdown (CommonMark with tables), to post, to send, or to print from anywhere."""

from __future__ import annotations

from collections.abc import Iterable

from setdown.publish.fixed_text import Strings, load_strings
from setdown.publish.inert import escape_markdown
from setdown.publish.plan_parts import Move, Plan, PlanGroup, PlanSection

MOST_COLUMNS = 4  # blank columns for the reader; more do not fit a page held upright
BLANK = "\u2002"


def format_plan_markdown(plan: Plan) -> str:
    """The whole plan."""
    strings = load_strings(plan.language)
    lines = [f"# {escape_markdown(plan.title)}", ""]
    if plan.draft:
        lines += [f"> **{strings.say('plan.draft')}: {strings.say('plan.draft_long')}**", ""]
    if plan.byline:
        lines += [escape_markdown(plan.byline), ""]
    if plan.trains:
        lines += [escape_markdown(plan.trains), ""]
    lines += [" · ".join(f"{name}: **{escape_markdown(value)}**" for name, value in plan.facts), ""]
    lines += _list_block(strings.say("caution.heading"), plan.cautions)
    if plan.said_first:
        lines += [f"{strings.say('caution.said')}:", ""]
        lines += [f"- “{escape_markdown(text)}”" for text in plan.said_first] + [""]
    lines += _list_block(strings.say("kit.heading"), plan.kit or (strings.say("kit.none"),))
    for section in plan.sections:
        lines += _format_section(section, strings)
    if plan.muscles or plan.figures:
        lines += _format_figures(plan, strings)
    if plan.afterwards:
        lines += [f"## {strings.say('after.heading')}", "", strings.say("after.said"), ""]
        lines += [f"- “{escape_markdown(text)}”" for text in plan.afterwards] + [""]
    lines += ["---", "", f"*{escape_markdown(plan.source)}*"]
    return "\n".join(lines) + "\n"


def _list_block(heading: str, items: Iterable[str]) -> list[str]:
    return [f"## {heading}", "", *(f"- {escape_markdown(item)}" for item in items), ""]


def _format_section(section: PlanSection, strings: Strings) -> list[str]:
    lines = [f"## {section.heading} ({section.minutes})", ""]
    for group in section.groups:
        lines += _format_group(group, strings)
    return lines


def _format_group(group: PlanGroup, strings: Strings) -> list[str]:
    about = [text for text in (group.how, group.rounds, group.rest, group.order) if text]
    lines = [f"### {group.letter} · {escape_markdown(' · '.join(about))}", ""]
    columns = max(len(move.turns) for move in group.moves) if group.logged else 0
    heads = ["", strings.say("plan.move"), strings.say("plan.do"), strings.say("plan.load")]
    word = "move.round" if len(group.moves) > 1 else "move.set"
    if columns > MOST_COLUMNS:
        heads.append(strings.say("plan.your_log"))
    else:
        heads += [f"{strings.say(word, n=n)}: {strings.say('plan.yours')}" for n in range(1, columns + 1)]
    lines.append("| " + " | ".join(heads) + " |")
    lines.append("|" + " --- |" * len(heads))
    for move in group.moves:
        dose = strings.join_list([text for text in (move.dose, move.finisher) if text])
        cells = [move.label, f"**{escape_markdown(move.name)}**", escape_markdown(dose), escape_markdown(move.load)]
        cells += [BLANK] * (len(heads) - len(cells))
        lines.append("| " + " | ".join(cells) + " |")
    lines.append("")
    for move in group.moves:
        lines += _list_cues(move, strings)
    return lines


def _list_cues(move: Move, strings: Strings) -> list[str]:
    if not move.notes:
        return []
    lines = [f"{move.label} {escape_markdown(move.name)}, {move.at}", ""]
    for kind, key, text in move.notes:
        head = f"**{strings.say(key)}:** " if key else ""
        lines.append(f"- {head}" + (escape_markdown(text) if kind == "plain" else f"“{escape_markdown(text)}”"))
    return [*lines, ""]


def _format_figures(plan: Plan, strings: Strings) -> list[str]:
    lines = [f"## {strings.say('plan.measures')}", ""]
    if plan.figures:
        lines += [f"- {name}: {escape_markdown(value)}" for name, value in plan.figures] + [""]
    if not plan.muscles:
        return lines
    lines += [escape_markdown(plan.counting), ""]
    lines += [f"| {strings.say('plan.muscle')} | {strings.say('plan.hard_sets')} |", "| --- | ---: |"]
    lines += [f"| {escape_markdown(share.name)} | {share.sets} |" for share in plan.muscles]
    return [*lines, ""]
