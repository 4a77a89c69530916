from pathlib import Path

from dryerbench.answers.units import UNITS
from legtoleg.authoring.answer_page import EXAMPLES, PAGE, page_text, write_page

ROOT = Path(__file__).resolve().parents[3]


def test_the_page_is_fresh():
    stale = "lessons/ANSWERS.md is stale: run python -m legtoleg.authoring.answer_page"
    assert (ROOT / PAGE).read_text(encoding="utf-8") == page_text(ROOT / EXAMPLES), stale


def test_every_unit_stands_on_the_page():
    text = page_text(ROOT / EXAMPLES)
    assert all(f"| {row.symbol} | {row.quantity} |" in text for row in UNITS)


def test_every_table_row_has_its_cells():
    rows = [line for line in page_text(ROOT / EXAMPLES).splitlines() if line.startswith("|")]
    assert {line.replace("\\|", "").count("|") for line in rows} == {3, 5}


def test_the_page_is_written_where_the_kit_takes_it_from(tmp_path):
    examples = tmp_path / EXAMPLES
    examples.parent.mkdir(parents=True)
    examples.write_text('group,typed,reads_as,asks\nPipes,a|b,,"What, a|b?"\nPipes,,,Nothing?\n', encoding="utf-8")
    (tmp_path / PAGE).parent.mkdir()
    page = write_page(tmp_path).read_text(encoding="utf-8")
    assert "| `a\\|b` | What, a\\|b? |" in page
    assert "| *(nothing)* | Nothing? |" in page
