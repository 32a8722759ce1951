"""Every text that is shown, as keys of a catalogue: what the code marks, and what tables say.

``python -m tests.messages de`` writes what the German catalogue still lacks, in the form of
a catalogue, and what it holds that nothing shows any more.
"""

import ast
import json
import sys
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace

import bodymap
from bodymap.atlas.assets import assets_folder, table
from bodymap.atlas.facts import Facts
from bodymap.atlas.nerve_tree import plexus_parts
from bodymap.examination.answers_moved import NOWHERE
from bodymap.findings.samples import sample_files
from bodymap.gui import actions, answer_pages, compare_answers, plexus_panel
from bodymap.language import ENGLISH, catalogue_file, languages, messages
from bodymap.localise.plexus_cut import PLEXUSES, plexus_graph
from bodymap.practice.hidden_patients import Difficulty
from bodymap.practice.textbook import complained
from bodymap.slides.limbs import PARTS
from bodymap.terms import MAP_NAMES, Side

PACKAGE = Path(bodymap.__file__).parent
TABLES = (
    ("skin-regions", "anatomy", ("label", "where")),
    ("region-parts", "anatomy", ("label",)),
    ("region-words", "anatomy", ("spoken",)),
    ("region-groups", "anatomy", ("spoken", "note")),
    ("lesion-sites", "anatomy", ("name",)),
    ("nerves", "anatomy", ("name",)),
    ("signs", "anatomy", ("label", "test")),
    ("key-points", "anatomy", ("location",)),
    ("pairs", "anatomy", ("motor_reflex",)),
    ("splits", "localisation", ("fact",)),
    ("parts", "examination", ("title", "hint", "caution")),
    ("sites", "examination", ("label",)),
    ("key-muscles", "examination", ("name",)),
    ("two-point-bands", "examination", ("band",)),
)
"""Tables whose words are shown, and in which columns."""

KINDS = ("nerve", "plexus", "root", "cauda", "cord", "brain", "polyneuropathy")
"""Kinds of lesions, as the search names them."""

LEVEL_WORDS = ("sensory", "motor", "complete", "incomplete", "yes", "no", "none")
"""Words of the classification that are values."""

CONTEXT, PLURAL = "\x04", "\0"


def key(text: str, context: str = "") -> str:
    """The key of a text in the machine form of a catalogue."""
    return f"{context}{CONTEXT}{text}" if context else text


def marked() -> Iterator[tuple[str, str]]:
    """Keys that stand in the code as texts, and the file of each."""
    for path in sorted(PACKAGE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                texts = [
                    a.value
                    for a in node.args
                    if isinstance(a, ast.Constant) and isinstance(a.value, str)
                ]
                place = str(path.relative_to(PACKAGE))
                if not texts or not isinstance(node.args[0], ast.Constant):
                    continue
                if node.func.id == "trn":
                    yield PLURAL.join(texts[:2]), place
                elif node.func.id in ("tr", "later", "phrase"):
                    yield key(*texts), place


def from_tables() -> Iterator[tuple[str, str]]:
    """Keys that stand in tables, and the table of each."""
    for row in actions.TABLE:
        yield key(row.text, "overlay" if row.group == "overlay" else ""), "actions"
        yield row.tip, "actions"
    for text in (*actions.MENUS, *{row.bar for row in actions.TABLE}, "Size and overlay"):
        yield text, "actions"
    for text, _, _ in actions.OVERLAYS:
        yield key(text, "overlay"), "actions"
    for word, _ in compare_answers.WORDS:
        yield key(word, "felt"), "compare_answers"
    for word in (*answer_pages.SHARP_DULL, *answer_pages.UP_DOWN):
        yield word, "answer_pages"
    for path in sample_files():
        yield path.stem.replace("-", " ").capitalize(), "samples"
        yield json.loads(path.read_bytes())["shows"]["sentence"], "samples"
    for word in (*PLEXUSES, *(d.label for d in Difficulty), "muscle", "reflex", *MAP_NAMES):
        yield word, "terms"
    for name, topic, columns in TABLES:
        for row in table(assets_folder(), name, topic):
            for column in columns:
                yield row[column], f"{topic}/{name}.csv"
    facts = Facts(assets_folder())
    for name in plexus_parts(facts).values():
        yield name, "anatomy/plexus.csv"
    for plexus in PLEXUSES:
        for node in plexus_graph(SimpleNamespace(facts=facts), plexus).nodes:  # type: ignore[arg-type]
            if node.english != node.id:
                yield key(plexus_panel.short(node.english), "on a button"), "plexus_panel"
    for part in dict.fromkeys(facts.body_parts.values()):
        for side in Side:
            yield complained(part, side), "complaints"
    for limb in ("leg", "arm"):
        yield key(limb, "on the"), "answer_pages"
    for limb in ("both legs", "both arms", "left leg", "right leg", "left arm", "right arm"):
        yield key(limb, "of a limb"), "visit_words"
    yield NOWHERE, "visit_words"
    for part in PARTS:
        for side in (Side.RIGHT, Side.LEFT) if part.one_side else ("",):
            yield key(f"{side} {part.name}".strip(), "of the body"), "slides/limbs"
    for view in {row["view"]: 0 for row in table(assets_folder(), "skin-regions")}:
        yield key(view, "view"), "region_list"
    for word in KINDS:
        yield word, "kinds"
    for word in LEVEL_WORDS:
        yield word, "levels"


def keys() -> dict[str, str]:
    """Every key that can be shown, and where it comes from."""
    found: dict[str, str] = {}
    for text, place in (*marked(), *from_tables()):
        if text:
            found.setdefault(text, place)
    return found


def known(code: str) -> dict[str, str]:
    """What a catalogue translates, without its head."""
    found = messages(catalogue_file(code).read_text(encoding="utf-8"))
    return {k: v for k, v in found.items() if k}


def quoted(text: str) -> str:
    """A text as a catalogue writes it."""
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"'


def entry(text: str) -> str:
    """An empty entry for a key."""
    context, _, rest = text.rpartition(CONTEXT)
    one, _, many = rest.partition(PLURAL)
    lines = [f"msgctxt {quoted(context)}"] if context else []
    lines.append(f"msgid {quoted(one)}")
    lines += [f"msgid_plural {quoted(many)}", 'msgstr[0] ""', 'msgstr[1] ""'] if many else []
    return "\n".join(lines if many else [*lines, 'msgstr ""'])


def main(code: str) -> None:
    """Write what is missing and what is stale."""
    have, shown, place = known(code), keys(), ""
    for text, where in shown.items():
        if text not in have:
            if where != place:
                print(f"# {where}\n")
                place = where
            print(entry(text), "\n")
    for text in have:
        if text not in shown:
            print(f"# nothing shows this any more: {quoted(text)}")


if __name__ == "__main__":
    codes = [c for c in languages() if c != ENGLISH]
    for one in sys.argv[1:] or codes:
        main(one)
