"""What pages load, joined: ours into few files, hers in its place, and of Material's styles what pages can hold."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from kitwright.archive.joined import FIRST, FRAME, held, joined, lean, material
from kitwright.archive.rules import cut, rules, selectors
from kitwright.archive.settings import settings
from kitwright.archive.theme import assets
from kitwright.archive.worn import Worn
from kitwright.kit.theme import PROGRAM, Theme, read_theme
from kitwright.schemes import HOUSE


def of(root: Path | None = None):
    theme = read_theme(root) if root else Theme()
    said, data = settings(theme), assets(theme, HOUSE)
    return joined(theme, said["extra_css"], said["extra_javascript"], data.__getitem__, "look/")


def script(name: str) -> bytes:
    """One of the program's own as the site has it, and its source without the remarks on lines of their own."""
    found = assets(Theme(), HOUSE)[name].strip()
    source = (PROGRAM / "assets" / name).read_text(encoding="utf-8")
    assert found.decode() == "\n".join(line for line in source.splitlines() if not line.lstrip().startswith("//")).strip()
    return found


def put(root: Path, name: str, text: str) -> None:
    file = root / "theme" / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, encoding="utf-8")


def test_a_page_of_ours_loads_one_style_sheet_and_two_scripts():
    found = of()
    assert (found.styles, found.scripts) == (["look/styles.css"], ["look/scripts.js"])
    assert set(found.files) == {"first.js", "kit-page.js", "kit-page.css", "past-page.css", "styles.css", "scripts.js"} and found.lean
    for name in FIRST:
        assert (PROGRAM / "assets" / name).read_bytes().strip() in found.files["first.js"]
    assert script(FRAME) in found.files["scripts.js"] and not re.search(
        rb"^\s*//", found.files["scripts.js"] + script("search.js"), re.MULTILINE
    )
    assert b"/*" not in found.files["styles.css"]
    order = [found.files["styles.css"].index(mark) for mark in (b".md-grid{", b"@font-face", b".kw-hero {", b".kw-tile ")]
    assert order == sorted(order)


def test_a_style_of_hers_is_joined_where_it_is_whole_and_else_stands_in_its_own_place(tmp_path: Path):
    put(tmp_path, "assets/site.css", "h1 { content: '}' } /* { */ @media print { p { color: red } }")
    assert of(tmp_path).styles == ["look/styles.css"] and b"h1 { content: '}' }" in of(tmp_path).files["styles.css"]
    put(tmp_path, "assets/my-club.css", "h2 { color: red }")
    assert of(tmp_path).styles == ["look/styles.css", "look/my-club.css"]
    for broken in ("h1 { color: red ", "h1 {}} p {", "a { content: ' }", "/* p {}", "@import 'more.css'; p {}"):
        put(tmp_path, "assets/site.css", broken)
        found = of(tmp_path)
        assert found.styles == ["look/styles.css", "look/site.css", "look/styles-2.css", "look/my-club.css"] and found.lean, broken
        assert broken.encode() not in found.files["styles.css"] + found.files["styles-2.css"]
    # Never in the place of a file of hers.
    put(tmp_path, "assets/styles.css", "p {}")
    assert "look/our-styles.css" in of(tmp_path).styles and "look/styles.css" in of(tmp_path).styles


def test_a_script_of_hers_stands_in_its_own_place(tmp_path: Path):
    put(tmp_path, "assets/jump.js", "never closed {")
    assert "look/jump.js" in of(tmp_path).scripts and b"never closed" not in b"".join(of(tmp_path).files.values())
    put(tmp_path, "assets/to-bench.js", "never closed {")
    kits = of(tmp_path).files["kit-page.js"]
    assert b"never closed" not in kits and b'new URL("to-bench.js", ' in kits and script("numbers.js") in kits


@pytest.mark.parametrize("name", ["mkdocs.yml", "overrides/partials/footer.html"])
def test_where_the_frame_is_hers_materials_files_are_loaded_as_it_has_them(tmp_path: Path, name: str):
    put(tmp_path, name, "extra:\n  hers: yes\n")
    found = of(tmp_path)
    assert not found.lean and b".md-grid{" not in found.files["styles.css"]
    assert (PROGRAM / "assets" / FRAME).read_bytes().strip() not in found.files["scripts.js"]


def test_a_template_of_hers_finds_all_of_materials_styles(tmp_path: Path):
    put(tmp_path, "templates/home.md", "mine")
    found = of(tmp_path)
    assert lean(read_theme(tmp_path)) and found.styles == of().styles
    assert b".admonition" in found.files["styles.css"] and b"@charset" not in found.files["styles.css"]


def test_a_kits_page_has_a_sheet_of_its_own_with_what_it_can_wear():
    """In the order of the whole sheet, so that the same rule wins."""
    found = of()
    whole, own = (found.files[name].decode() for name in ("styles.css", "kit-page.css"))
    assert (
        found.own == {name: f"look/{name}.css" for name in ("kit-page", "past-page")}
        and len(own) < len(whole) * 4 / 5
        and own.count("{") == own.count("}")
    )
    for there in (
        ".kw-kit",
        ".kw-grade--",
        ".kw-word",
        ".kw-search",
        ".md-header",
        ".kw-two--drawn",
        ".kw-marked",
        "@font-face",
        "@media print",
    ):
        assert there in own, there
    for elsewhere in (".kw-all__side", ".footnote-ref"):
        assert elsewhere in whole and elsewhere not in own, elsewhere
    order = [own.index(mark) for mark in (".md-grid{", "@font-face", ".kw-jump", ".kw-marked", "@media (forced-colors")]
    assert order == sorted(order)


def test_what_a_kits_page_loads_below_its_head_is_not_waited_for(tmp_path: Path):
    """It stands in the whole sheet and in a file of its own, and what it needs of the sheet above stays there."""
    found = of()
    whole, own = (found.files[name].decode() for name in ("styles.css", "kit-page.css"))
    below = assets(Theme(), HOUSE)["numbers.css"].decode()
    assert ".kw-numbers__told" in whole and ".kw-numbers__told" not in own
    assert set(re.findall(r"var\((--[\w-]+)", below)) <= set(re.findall(r"(--[\w-]+)\s*:", own))
    # Hers that loads nothing below has all of it above.
    put(tmp_path, "templates/kit.md", "---\nstyles: kit-page\n---\nmine\n")
    assert ".kw-numbers__told" in of(tmp_path).files["kit-page.css"].decode()


@pytest.mark.parametrize(
    ("name", "text", "there"),
    [
        ("assets/my.js", "document.body.className = 'kw-all__side'", ".kw-all__side"),
        ("assets/site.css", ".mine .kw-kit { color: red }", ".mine .kw-kit{"),
        ("templates/home.md", '<p class="footnote-ref">mine</p>', ".footnote-ref"),
    ],
)
def test_what_she_says_in_styles_scripts_and_templates_of_her_own_is_in_every_sheet(tmp_path: Path, name: str, text: str, there: str):
    assert there not in of().files["kit-page.css"].decode()
    put(tmp_path, name, text)
    found = of(tmp_path)
    assert found.own == of().own and there in found.files["kit-page.css"].decode()


def test_a_kits_page_of_hers_that_asks_for_no_sheet_has_the_whole_one_and_each_script_once(tmp_path: Path):
    assert of().takes_in == "kit-page.js" and of().files["scripts.js"] in of().files["kit-page.js"]
    put(tmp_path, "templates/kit.md", "---\nhide: [toc]\n---\nmine\n")
    found = of(tmp_path)
    assert found.takes_in == "" and found.files["scripts.js"] not in found.files["kit-page.js"]


def test_a_selector_may_match_where_all_its_classes_are_said():
    """Selectors 4, 4.2 to 4.5: of `:is`, `:where` and `:has` one of the list is enough, and `:not` asks for nothing."""
    worn = Worn(frozenset({"a", "b", "grade--", "-", "--"}))
    for may in (
        ".a",
        ".a.b > p",
        "p",
        ".grade--low",
        ":is(.x, .a) p",
        ".a:not(.x)",
        '[title=".x"] i',
        ".a:has(> .b)",
        ".md-grid",
        ":is(.x, :where(.y, .b)) .a",
    ):
        assert worn.may(may), may
    for never in (".x", ".a .x", ".ab", ".x--low", ":is(.x, .y) p", ".a:has(> .x)", ":is(.a, .b) :where(.x)"):
        assert not worn.may(never), never


def test_a_script_that_fails_takes_no_other_with_it():
    text = of().files["scripts.js"].decode()
    assert text.startswith('"use strict"') and text.count("\ntry {") == text.count("catch (error) { reportError(error) }")


def test_of_materials_styles_stays_what_pages_hold():
    text = material().decode()
    assert len(text) < 60_000 and "sourceMappingURL" not in text
    assert not re.search(r"\.(?:md-search|tabbed-set|admonition|highlight|task-list)\b", text)
    for there in (
        ".md-typeset table:not([class])",
        ".md-nav__link",
        ".md-header",
        ".md-grid",
        ".footnote",
        ".md-typeset details",
        "@media print",
    ):
        assert there in text, there
    assert text.count("{") == text.count("}")


def test_a_sheet_is_cut_rule_by_rule():
    """Selectors are parted at their own commas, rules at their own braces (CSS Syntax 3, 4.3), whatever texts hold."""
    sheet = """@charset "UTF-8";@keyframes a{from{x:1}to{x:2}}:root{--one:url("data:x{};");--two:1}:root{--md-search:1}
        p:is(.grid,.b),a[title="},{"]{c:var(--one)}@media print{.tabbed-set,b{d:e}.highlight{f:g}}@media screen{.md-search{h:i}}/* { */i{}"""
    assert [head for head, _ in rules(sheet)][-3:] == ["@media print", "@media screen", "i"]
    assert selectors('p:is(.grid,.b),a[title="},{"]')[0] == "p:is(.grid,.b)"
    assert cut(sheet, held).split("\n")[:-1] == [
        "@keyframes a{from{x:1}to{x:2}}",
        ':root{--one:url("data:x{};");--two:1}',
        'a[title="},{"]{c:var(--one)}',
        "@media print{b{d:e}}",
        "i{}",
    ]
