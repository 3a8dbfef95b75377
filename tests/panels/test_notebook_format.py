from __future__ import annotations

import re
import subprocess
import sys

from vanwater.panels.notebook_format import METADATA, kernel_here, nbformat, written_out


def test_a_notebook_comes_back_as_it_was_written() -> None:
    made = nbformat().v4.new_notebook(cells=[nbformat().v4.new_markdown_cell("# Ä", id="a")], metadata=METADATA)
    text = written_out(made)
    assert text.endswith("}\n") and "Ä" in text
    assert nbformat().reads(text, as_version=4) == made


def test_html_takes_one_line_and_plain_text_its_own() -> None:
    new = nbformat().v4
    both = new.new_output("display_data", {"text/html": "<p>a\nb</p>", "text/plain": "a\nb"})
    made = new.new_notebook(cells=[new.new_code_cell("1\n2", id="a", outputs=[both])], metadata=METADATA)
    text = written_out(made)
    assert '"text/html": "<p>a\\nb</p>"' in text
    assert re.search(r'"text/plain": \[\s*"a\\n",\s*"b"\s*\]', text)
    assert nbformat().reads(text, as_version=4) == made


def test_the_kernel_of_this_machine_is_named_as_it_names_itself() -> None:
    told = kernel_here()
    assert told["kernelspec"]["name"] == METADATA["kernelspec"]["name"]
    assert told["language_info"]["version"] == sys.version.split()[0]


def test_a_notebook_is_checked_without_the_grammar() -> None:
    code = (
        "import sys; from vanwater.panels.notebook_format import nbformat; n = nbformat();"
        "n.validate(n.v4.new_notebook()); assert sys.modules['rfc3987_syntax'] is None"
    )
    subprocess.run([sys.executable, "-c", code], check=True, timeout=60)
