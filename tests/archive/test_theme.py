"""An archive's own theme: laid over the program's file by file, its faults told as hers, and what a renewal does to it."""

from __future__ import annotations

import json
import os
import re
import shutil
import threading
from pathlib import Path

import pytest
import yaml
from archive.small import FIRST, SECOND, tree_of, write_small
from click.testing import CliRunner
from jinja2 import UndefinedError
from kitwright.archive import pages, taking, workers
from kitwright.archive import settings as module_settings
from kitwright.archive.build import build_archive
from kitwright.archive.policy import lost_of, policy_of
from kitwright.archive.preview import Preview
from kitwright.archive.settings import FILLED_IN, settings
from kitwright.archive.themed import look_over, refuse_faults, slips_of
from kitwright.cli import cli
from kitwright.errors import UserError
from kitwright.kit import taken
from kitwright.kit import theme as module
from kitwright.kit.taken import BEFORE, RECORD, before, digest, plain, texts
from kitwright.kit.theme import BIGGEST_TEXT, FILLED, OUR_MARK, PARTS, PROGRAM, TEMPLATES, OwnFile, Theme, read_theme
from kitwright.telling.templates import sandbox
from release import bench

HOME, MAIN, SITE_CSS, PARTIAL = "templates/home.md", "overrides/main.html", "assets/site.css", "overrides/partials/footer.html"
OLD_FILES = Path(__file__).with_name("theme_before")
"""Files of the theme as an earlier kitwright had them."""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    """An archive of one past kit, which is built in half a second."""
    write_small(tmp_path)
    for kit in (FIRST, SECOND):
        shutil.rmtree(tmp_path / "kits" / kit)
    return tmp_path


def own(root: Path, name: str) -> str:
    """The program's file of a name."""
    file = Theme().program_file(name)
    assert file
    return file.read_text(encoding="utf-8")


def put(root: Path, name: str, text: str | bytes) -> Path:
    file = root / "theme" / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(text if isinstance(text, bytes) else text.encode())
    return file


def changed(root: Path, name: str, *changes: tuple[str, str]) -> Path:
    """The program's file with changes, as hers."""
    text = own(root, name)
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return put(root, name, text)


def faults(root: Path) -> list[UserError]:
    try:
        refuse_faults(read_theme(root))
    except UserError as error:
        return list(error.each)
    return []


def run(root: Path, *asked: str):
    return CliRunner().invoke(cli, ["--root", str(root), *asked])


# --- laid over ------------------------------------------------------------------------------------


def test_hers_goes_over_the_program_file_by_file(root: Path, monkeypatch):
    filled, fill = [], pages._settings
    monkeypatch.setattr(pages, "_settings", lambda *given: filled.append(fill(*given)) or filled[-1])
    changed(root, HOME, ("What this is", "What we do here"))
    put(root, "templates/mine.md", "<p>From a part of my own, {{ club.name }}.</p>\n")
    changed(root, "templates/words.md", ("# ", '{% include "mine.md" %}\n\n# '))
    changed(root, "overrides/partials/copyright.html", ("</nav>", "<p>A foot of mine</p></nav>"))
    changed(root, PARTIAL, ("<footer", '<footer data-hers="yes"'))
    put(root, "assets/desk.css", "h1 { letter-spacing: 0 }\n")
    put(root, "mkdocs.yml", "theme:\n  language: de\nextra:\n  bench: oak\n")
    build_archive(root, root / "site")
    site = tree_of(root / "site")
    extras = {*yaml.safe_load(filled[0])["extra"]} - {*settings(Theme())["extra"]}
    assert extras == {*FILLED_IN, "bench"}, "what a build fills in is not hers to set"
    home, words = site["index.html"].decode(), site["words.html"].decode()
    assert "What we do here" in home and "Earlier kits" not in home and "A foot of mine" in home and 'data-hers="yes"' in home
    assert "From a part of my own, The &lt;Test&gt; &amp; Bench." in words
    assert site["look/desk.css"] == b"h1 { letter-spacing: 0 }\n" and '<link rel="stylesheet" href="look/desk.css">' in home
    assert '<html lang="de"' in home and site["look/site.css"] == (PROGRAM / SITE_CSS).read_bytes()
    assert look_over(read_theme(root)) == []


def test_a_theme_that_is_not_there_or_is_empty_or_is_kitwrights_own_is_none(root: Path):
    assert read_theme(root) == Theme()
    (root / "theme").mkdir()
    assert read_theme(root).files == {} and look_over(read_theme(root)) == []
    assert read_theme(PROGRAM.parent) == Theme()


def test_every_file_of_the_program_passes_as_hers(root: Path):
    """Nothing that kitwright's own templates do is taken for a fault."""
    for part, endings in FILLED.items():
        for name in Theme().programs_in(part):
            if name.endswith(endings):
                put(root, f"{part}/{name}", own(root, f"{part}/{name}") + "{# mine #}\n")
    put(root, "mkdocs.yml", own(root, "mkdocs.yml") + "# mine\n")
    assert faults(root) == [] and look_over(read_theme(root)) == []
    assert settings(read_theme(root)) == settings(Theme())


@pytest.mark.parametrize("copy", [lambda data: data, lambda data: data.replace(b"\n", b"\r\n"), lambda data: b"\xef\xbb\xbf" + data])
@pytest.mark.parametrize("name", [HOME, MAIN, SITE_CSS, "mkdocs.yml"])
def test_a_copy_that_she_never_changed_gives_way(root: Path, name: str, copy):
    """Of now or of earlier; ends of lines are no change."""
    put(root, name, copy((PROGRAM / name).read_bytes()))
    assert read_theme(root).standings[name] == "same" and read_theme(root).hers(name) is None
    if (OLD_FILES / name).is_file():
        put(root, name, copy((OLD_FILES / name).read_bytes()))
        assert read_theme(root).standings[name] in ("old", "same") and read_theme(root).hers(name) is None
        put(root, name, copy((OLD_FILES / name).read_bytes()) + b" ")
        assert read_theme(root).standings[name] == "outgrown" and read_theme(root).hers(name)


# --- faults ---------------------------------------------------------------------------------------

BROKEN = {
    "a tag without an end": (HOME, "one\n{% if made %}\n", 2, "theme.syntax"),
    "no such tag": (HOME, "one\n\n{% iff made %}{% endif %}", 3, "theme.syntax"),
    "an unknown filter": (HOME, "one\n{{ club.name|shout }}", 2, "theme.no-filter"),
    "an unknown test": (HOME, "{% if made is tall %}{% endif %}", 1, "theme.no-filter"),
    "a template that is not there": (HOME, 'one\n{% include "part.html" %}', 2, "theme.no-template"),
    "one of several that are not there": (HOME, '{% include ["a.html", "b.html"] %}', 1, "theme.no-template"),
    "a template outside": (HOME, '{% include "../mkdocs.yml" %}', 1, "theme.no-template"),
    "no UTF-8": (HOME, b"one\n\ntw\xf6\n", 3, "files.no-utf-8"),
    "no UTF-8 as Windows saves it": (HOME, "one\ntwö\n".encode("utf-16"), 1, "files.no-utf-8"),
    "a head that is no YAML": (HOME, "---\nhide: [toc\n---\n# x\n", 2, "theme.head-unreadable"),
    "a head without an end": (HOME, "---\nhide: [toc]\n# x\n", 1, "theme.head-open"),
    "a head that says nothing by name": (HOME, "---\nhide\n---\n# x\n", 1, "theme.head-none"),
    "a script": (HOME, "one\n<script>alert(1)</script>", 2, "theme.against-the-policy"),
    "a style": (HOME, '# x\n\n<p class="a"\n style="color: red">x</p>', 3, "theme.against-the-policy"),
    "something from another host": (
        MAIN,
        '{% extends "base.html" %}\n<img src="https://elsewhere.example/x.png">',
        2,
        "theme.against-the-policy",
    ),
    "a block that is not there": (MAIN, '{% extends "bas.html" %}', 1, "theme.no-template"),
    "a brief": ("briefs/team.md", "{{ summary }}\n{% for one in asked %}\n", 2, "theme.syntax"),
    "a brief's unknown filter": ("briefs/team.md", "{{ summary|led }}", 1, "theme.no-filter"),
    "macros that others ask for": ("templates/parts.html", "{% macro picture(p) %}{% endmacro %}", 1, "theme.lacks"),
    "a frame of a page's own": (HOME, "---\nhide: [toc]\ntemplate: other.html\n---\n# x\n", 3, "theme.head-frame"),
    "an asset that would be a page": ("assets/x.html", "<p>x</p>", None, "theme.no-asset"),
    "an asset that would be a page too": ("assets/x.md", "# x", None, "theme.no-asset"),
}


@pytest.mark.parametrize("name, text, line, code", BROKEN.values(), ids=BROKEN)
def test_a_fault_is_hers_with_file_and_line(root: Path, name, text, line, code):
    file = put(root, name, text)
    found = faults(root)
    assert [e.code for e in found[:1]] == [code] and found[0].place.file == file and found[0].place.line == line
    assert all(e.problem and e.remedy and not e.problem.startswith(e.code) for e in found)


def test_check_and_build_tell_them(root: Path):
    put(root, *BROKEN["a tag without an end"][:2])
    done = run(root, "check")
    assert done.exit_code == 2 and f"{HOME}:2: this template can't be read" in done.output


def test_all_faults_are_told_at_once_and_the_old_site_stays(root: Path):
    build_archive(root, root / "site")
    was = tree_of(root / "site")
    for name in ("a tag without an end", "a brief", "something from another host"):
        put(root, *BROKEN[name][:2])
    put(root, "mkdocs.yml", "theem: {}\n")
    done = run(root, "build")
    assert done.exit_code == 2 and tree_of(root / "site") == was
    assert re.findall(r"theme/([\w./]+):(\d)", done.output) == [("mkdocs.yml", "1"), (HOME, "2"), ("briefs/team.md", "2"), (MAIN, "2")]


AT_WORK = {
    "an unknown value": (HOME, "one\n{{ newst.kit }}", 2, "newst"),
    "an unknown part of a value": (HOME, "one\n{{ club.motto }}", 2, "motto"),
    "a sum that can't be": (HOME, "one\n\n{{ club.name + 1 }}", 3, "str"),
    "division by nothing": (HOME, "{{ 1 / 0 }}", 1, "zero"),
    "a template worked out": (HOME, '\n{% include club.name ~ ".md" %}', 2, "no template"),
    "a template that includes itself": (HOME, 'x\n{% include "home.md" %}', 2, "without end"),
    "a macro called wrongly": (HOME, '{% import "parts.html" as parts %}\n{{ parts.grid() }}', 2, ""),
    "an end of all numbers": (HOME, "{% for n in range(1000000000) %}{% endfor %}", 1, "Range too big"),
    "a head made by a template": (HOME, "---\nhide: {{ club.name }}: [\n---\n# x", 2, "head"),
    "a block of the frame": (MAIN, '{% extends "base.html" %}\n{% block announce %}{{ config.motto.text }}{% endblock %}', 2, "motto"),
    "a partial": (PARTIAL, "\n\n{{ config.motto.text }}", 3, "motto"),
}


@pytest.mark.parametrize("name, text, line, word", AT_WORK.values(), ids=AT_WORK)
def test_what_goes_wrong_when_it_is_filled_in_is_hers_too(root: Path, name, text, line, word):
    file = put(root, name, text)
    assert faults(root) == []
    with pytest.raises(UserError) as caught:
        build_archive(root, root / "site")
    assert caught.value.place.file == file and caught.value.place.line == line
    assert word in caught.value.problem and caught.value.remedy and not (root / "site").exists()


def test_a_setting_that_puts_a_script_on_every_page_is_told_as_hers(root: Path):
    file = put(root, "mkdocs.yml", "extra:\n  analytics: {provider: google, property: G-1}\n")
    with pytest.raises(UserError) as caught:
        build_archive(root, root / "site")
    assert caught.value.code == "theme.against-the-policy" and caught.value.place.file == file


@pytest.mark.parametrize(
    "text, line, word",
    [
        ("one\n{{ moto }}\n", 2, "'moto' is undefined"),
        ("{% for %}", 1, "can't be read"),
        (b"\n\xf6", 2, "UTF-8"),
        ('{% include "x" %}', 1, "no template x"),
    ],
)
def test_a_fault_in_a_brief_is_hers_too(tmp_path: Path, text, line, word):
    write_small(tmp_path)
    file = put(tmp_path, "briefs/team.md", text)
    done = run(tmp_path, "brief", FIRST, "--for", "team")
    assert done.exit_code == 2 and f"{file}:{line}: " in done.output and word in done.output
    file.write_text("Mine: {{ kit.title }}, {{ form.heading('x') }}", encoding="utf-8")
    assert run(tmp_path, "brief", FIRST, "--for", "team").output.startswith("Mine: Zinnia")


def test_a_link_of_hers_that_leads_nowhere_is_told_at_its_line(root: Path):
    file = changed(root, "templates/words.md", ("# ", "\n[on](nowhere.md)\n\n# "))
    with pytest.raises(UserError) as caught:
        build_archive(root, root / "site")
    assert caught.value.code == "theme.page-not-made" and caught.value.place.file == file
    assert "nowhere.md" in file.read_text(encoding="utf-8").split("\n")[caught.value.place.line - 1]


def test_what_the_page_generator_can_not_do_with_hers_is_told_too(root: Path):
    """A head of another form than the generator expects goes wrong in blocks that are none of hers."""
    put(root, HOME, "---\nhide: 3\n---\n# x\n")
    with pytest.raises(UserError) as caught:
        build_archive(root, root / "site")
    assert caught.value.code == "theme.not-built" and HOME in caught.value.remedy and not (root / "site").exists()


def test_a_fault_of_the_programs_own_stays_a_bug(root: Path, tmp_path_factory, monkeypatch):
    """Even where a template of hers includes it."""
    program = tmp_path_factory.mktemp("program") / "theme"
    shutil.copytree(PROGRAM, program)
    (program / "templates" / "care.md").write_text("# Care\n\n{{ nothing_of_the_kind }}\n", encoding="utf-8")
    monkeypatch.setattr(module, "PROGRAM", program)
    (program / "templates" / "words.md").write_text('{% include "care.md" %}\n', encoding="utf-8")
    put(root, "templates/words.md", '# Words\n\n{% include "care.md" %}\n')
    with pytest.raises(UndefinedError):
        build_archive(root, root / "site")


def test_a_script_that_only_a_page_shows_is_told_where_hers_is(root: Path):
    file = changed(root, "templates/words.md", ("# ", '{{ "<scr" ~ "ipt>alert(1)</scr" ~ "ipt>" | safe }}\n\n# '))
    file.write_text(
        file.read_text()
        .replace('"ipt>" | safe', '"ipt>"')
        .replace('{{ "<scr"', '{% set s = "<scr"')
        .replace('"ipt>" }}', '"ipt>" %}{{ s|safe }}')
    )
    with pytest.raises(UserError) as caught:
        build_archive(root, root / "site")
    assert caught.value.code == "theme.against-the-policy" and caught.value.place.file == file


def test_what_every_page_has_to_say_can_not_be_lost(root: Path):
    file = put(root, MAIN, re.sub(r"  <meta http-equiv.*\n", "", own(root, MAIN)))
    with pytest.raises(UserError) as caught:
        build_archive(root, root / "site")
    assert caught.value.code == "theme.policy-lost" and caught.value.place.file == file and policy_of(Theme()) in caught.value.remedy
    page = f'<head><meta http-equiv="Content-Security-Policy" content="{policy_of(Theme())}"><meta name="robots" content="noindex">'
    secret = '<body><p class="kw-secret">'
    assert lost_of(page, policy_of(Theme()), "public") is None and lost_of(page + secret, policy_of(Theme()), "team") is None
    assert (
        lost_of(page, policy_of(Theme()), "members")
        == lost_of(f"<head>{secret}".join(page.split("<head>")[:1]) + page.replace("noindex", "all") + secret, policy_of(Theme()), "team")
        == "theme.secret-lost"
    )
    ahead = '<p class="kw-secret kw-ahead">'
    assert lost_of(page + ahead, policy_of(Theme()), "public", True) is None
    assert lost_of(page + secret, policy_of(Theme()), "public", True) == "theme.ahead-lost"
    late = page.replace("<head>", '<head><script src="x.js"></script>')
    assert (
        lost_of(late, policy_of(Theme()), "public")
        == lost_of(page.replace("'self'", "*"), policy_of(Theme()), "public")
        == "theme.policy-lost"
    )


# --- from a stranger ------------------------------------------------------------------------------

EVIL = [
    "{{ ''.__class__.__mro__ }}",
    "{{ club.__init__.__globals__ }}",
    "{{ ''['__class__'] }}",
    "{{ ''|attr('__class__') }}",
    "{{ '{0.__class__}'.format(club) }}",
    "{{ '{0.parent}'.format(path) }}",
    "{{ path.read_text() }}",
    "{{ path.parent }}",
    "{{ (path|attr('unlink'))() }}",
    "{{ [path]|map(attribute='parent')|join }}",
    "{{ kind('x') }}",
    "{{ opened('/etc/hostname') }}",
    "{{ os.getcwd() }}",
    "{{ made.clear() }}",
    "{{ made.append(1) }}",
    "{{ values.update(a=1) }}",
    "{{ helper.__code__ }}",
    "{{ helper.func_globals }}",
    "{{ cycler.__init__ }}",
    "{{ stranger.copy_file() }}",
    "{{ lipsum() }}",
    "{{ self.__init__.__globals__ }}",
]


@pytest.mark.parametrize("text", EVIL)
def test_the_sandbox_keeps_a_template_to_what_it_is_given(tmp_path: Path, text: str):
    file = tmp_path / "theirs.txt"
    file.write_text("theirs")
    made, values = [1], {"b": 2}
    given = {
        "club": OwnFile("a", file, b""),
        "path": file,
        "kind": Path,
        "opened": open,
        "os": os,
        "made": made,
        "values": values,
        "helper": digest,
        "stranger": CliRunner(),
    }
    with pytest.raises(Exception) as caught:
        sandbox(Theme(), TEMPLATES).from_string(text).render(given)
    assert type(caught.value).__name__ in ("SecurityError", "UndefinedError")
    assert (made, values, file.read_text()) == ([1], {"b": 2}, "theirs")


def test_what_the_sandbox_lets_through():
    text = (
        "{{ path.name }} {{ values.get('b') }} {{ values.items()|list }} {{ 'a-b'.split('-')|join }} {{ '{:>3}'.format(7) }}"
        " {{ helper(data) }} {% for x in range(2) %}{{ loop.cycle('p', 'q') }}{% endfor %} {{ file.place() }}"
    )
    given = {"path": Path("a/b.txt"), "values": {"b": 2}, "helper": digest, "data": b"x", "file": OwnFile("a", Path("/a"), b"")}
    assert sandbox(Theme(), TEMPLATES).from_string(text).render(given) == f"b.txt 2 [('b', 2)] ab   7 {digest(b'x')} pq /a"


def test_blocks_around_the_pages_are_in_the_sandbox_too(root: Path):
    changed(root, MAIN, ('{% extends "base.html" %}', '{% extends "base.html" %}\n{% set x = config.theme.get_env() %}'))
    with pytest.raises(UserError) as caught:
        build_archive(root, root / "site")
    assert caught.value.code == "theme.forbidden" and caught.value.place.file.name == "main.html"


def test_nothing_is_read_from_outside_of_her_theme(root: Path, tmp_path_factory):
    other = tmp_path_factory.mktemp("other")
    (other / "home.md").write_text("secret")
    (root / "theme" / "templates").mkdir(parents=True)
    (root / "theme" / "templates" / "home.md").symlink_to(other / "home.md")
    (root / "theme" / "assets").symlink_to(other)
    (root / "theme" / "briefs").mkdir()
    os.mkfifo(root / "theme" / "briefs" / "team.md")
    put(root, "templates/words.md", b"x" * (BIGGEST_TEXT + 1))
    put(root, "templates/nul.md", "x")
    with pytest.raises(UserError) as caught:
        read_theme(root)
    assert sorted(e.code for e in caught.value.each) == [
        "files.link-out",
        "files.linked-outside",
        "files.no-ordinary-file",
        "files.too-large",
        "theme.name",
    ]
    shutil.rmtree(root / "theme")
    (root / "theme").symlink_to(other)
    with pytest.raises(UserError, match="a link that leads out"):
        read_theme(root)
    (root / "theme").unlink()
    (root / "theme").write_text("x")
    with pytest.raises(UserError, match="no folder"):
        read_theme(root)


def test_too_many_files_are_refused_and_what_desktops_leave_is_passed_over(root: Path, monkeypatch):
    for name in (".DS_Store", "Thumbs.db", "templates/home.md~", ".git/config"):
        put(root, name, "x")
    assert read_theme(root).files == {}
    monkeypatch.setattr(module, "MOST_FILES", 2)
    for n in range(3):
        put(root, f"assets/{n}.css", "")
    with pytest.raises(UserError, match="more than 2 files"):
        read_theme(root)


# --- settings -------------------------------------------------------------------------------------


def test_her_settings_are_merged_and_ours_stay(root: Path, monkeypatch):
    # A copy of an earlier list names what that kitwright had.
    monkeypatch.setattr(module_settings, "before", lambda: {"assets/desk.css": frozenset()})
    put(root, "assets/x.js", "")
    put(root, "assets/logo.svg", "<svg/>")
    put(
        root,
        "mkdocs.yml",
        "theme: {features: [toc.follow], logo: look/logo.svg, icon: {logo: material/home}}\nextra: {bench: oak}\n"
        "extra_css: [look/site.css, look/desk.css]\nextra_javascript: [look/x.js]\nmarkdown_extensions: [smarty, {toc: {title: Here}}]\n"
        "plugins: [{search: {lang: de}}]\nuse_directory_urls: false\n",
    )
    ours, said = settings(Theme()), settings(read_theme(root))
    assert said["theme"] == ours["theme"] | {
        "features": ["toc.follow"],
        "logo": "look/logo.svg",
        "icon": {"menu": "material/menu", "logo": "material/home"},
    }
    assert (
        said["extra"] == ours["extra"] | {"bench": "oak"}
        and said["extra_css"] == ours["extra_css"]
        and said["extra_javascript"] == [*ours["extra_javascript"], "look/x.js"]
    )
    assert said["markdown_extensions"] == [
        e if e != ours["markdown_extensions"][-1] else {"toc": {"toc_depth": 3, "title": "Here"}} for e in ours["markdown_extensions"]
    ] + ["smarty"]
    assert said["plugins"] == ours["plugins"] == []
    assert [said[key] for key in ("use_directory_urls", "strict", "validation")] == [
        ours[key] for key in ("use_directory_urls", "strict", "validation")
    ]
    assert look_over(read_theme(root)) == []


def test_a_copy_of_settings_with_the_search_of_before_still_serves(root: Path):
    """Earlier kitwrights named MkDocs' search plugin and a script of their own; the site's search needs neither."""
    put(
        root,
        "mkdocs.yml",
        "extra: {generator: false, polyfills: [look/finder.js]}\nplugins:\n  - search:\n      lang: en\n"
        "      pipeline: [stopWordFilter]\n      separator: '[\\s]+'\n",
    )
    assert settings(read_theme(root)) == settings(Theme()) and look_over(read_theme(root)) == []


WRONG = {
    "no YAML": ("theme:\n  features: [a\n", 2, "yaml.bracket-open"),
    "a tag that makes Python": ("extra: !!python/object/apply:os.getcwd []\n", 1, "yaml.unreadable"),
    "nothing": ("# nothing yet\n", 1, "yaml.empty"),
    "a list": ("- a\n", 1, "yaml.no-names"),
    "a key twice": ("extra: {}\nextra: {}\n", 2, "yaml.twice"),
    "an unknown setting": ("theem: {}\n", 1, "theme.setting-unknown"),
    "hooks": ("theme:\n  language: de\nhooks: [evil.py]\n", 3, "theme.setting-kept"),
    "addresses that open from no folder": ("use_directory_urls: true\n", 1, "theme.setting-kept"),
    "another folder": ("docs_dir: /etc\n", 1, "theme.setting-kept"),
    "another file": ("INHERIT: ../x.yml\n", 1, "theme.setting-unknown"),
    "another theme": ("theme: {name: mkdocs}\n", 1, "theme.setting-kept"),
    "a theme by its name": ("theme: mkdocs\n", 1, "theme.setting-shape"),
    "blocks from elsewhere": ("theme:\n  custom_dir: /etc\n", 2, "theme.setting-kept"),
    "letters from another host": ("theme:\n  font: {text: Roboto}\n", 2, "theme.setting-kept"),
    "an unknown setting of the theme": ("theme:\n  palete: []\n", 2, "theme.setting-unknown"),
    "an unknown language": ("theme:\n  language: xx\n", 2, "theme.setting-choice"),
    "a language that is a path": ("theme:\n  language: ../../base\n", 2, "theme.setting-choice"),
    "an icon that is a path": ("theme:\n  icon:\n    logo: ../../base\n", 3, "theme.setting-icon"),
    "an unknown icon": (
        "theme:\n  palette:\n    - scheme: default\n      toggle: {icon: material/nothing-such}\n",
        4,
        "theme.setting-icon",
    ),
    "features that are one word": ("theme:\n  features: toc.follow\n", 2, "theme.setting-shape"),
    "an extra that a build fills in": ("extra:\n  audience: public\n", 2, "theme.setting-kept"),
    "a style that is not there": ("extra_css:\n  - look/sit.css\n", 2, "theme.setting-asset"),
    "a script of another host": ("extra_javascript:\n  - https://elsewhere.example/x.js\n", 2, "theme.setting-asset"),
    "a plugin that is not installed": ("plugins:\n  - search\n  - minify\n", 3, "theme.setting-plugin"),
    "a plugin that fetches": ("plugins:\n  - material/privacy\n", 2, "theme.setting-plugin"),
    "a script before all others": ("extra:\n  polyfills: [look/site.css]\n", 2, "theme.setting-kept"),
    "search that reads a file": ("plugins:\n  - search:\n      lang: de\n      jieba_dict: /etc/passwd\n", 4, "theme.setting-kept"),
    "an extension that reads files": ("markdown_extensions:\n  - pymdownx.snippets:\n      base_path: /\n", 2, "theme.setting-extension"),
    "an extension that is any module": ("markdown_extensions: [antigravity]\n", 1, "theme.setting-extension"),
    "an extension's options of another form": ("markdown_extensions:\n  - toc: yes\n", 2, "theme.setting-shape"),
}


@pytest.mark.parametrize("text, line, code", WRONG.values(), ids=WRONG)
def test_a_setting_that_is_not_hers_is_told_at_its_line(root: Path, text, line, code):
    file = put(root, "mkdocs.yml", text)
    found = faults(root)
    assert [(e.code, e.place.file, e.place.line) for e in found] == [(code, file, line)] and found[0].problem and found[0].remedy


# --- names ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name, near",
    [
        ("templates/hom.md", HOME),
        ("template/home.md", HOME),
        ("home.md", HOME),
        ("Templates/Home.md", HOME),
        ("overides/main.html", MAIN),
        ("overrides/partials/foter.html", PARTIAL),
        ("assets/sit.css", SITE_CSS),
        ("assets/picture.png", None),
        ("briefs/teem.md", "briefs/team.md"),
        ("mkdocs.yaml", "mkdocs.yml"),
        ("something/else.txt", None),
        ("overrides/evil.js", None),
    ],
)
def test_a_name_that_nothing_asks_for_is_a_slip(root: Path, name: str, near: str | None):
    file = put(root, name, "x")
    [found] = look_over(read_theme(root))
    assert (found.level, found.code, found.place.file) == ("warning", "theme.no-place", file) and (near is None or near in found.remedy)
    assert dict(slips_of(read_theme(root)))[name] in ((near,) if near else (None, *Theme().programs_in("assets")))


def test_a_style_that_was_meant_for_ours_is_not_laid_on_unless_it_is_asked_for(root: Path):
    put(root, "assets/sit.css", "x {}")
    put(root, "assets/desk.css", "x {}")
    assert settings(read_theme(root))["extra_css"][-1] == "look/desk.css" and len(look_over(read_theme(root))) == 1
    put(root, "mkdocs.yml", "extra_css: [look/sit.css]\n")
    assert settings(read_theme(root))["extra_css"][-2:] == ["look/sit.css", "look/desk.css"] and look_over(read_theme(root)) == []


def test_check_tells_a_slip(root: Path):
    put(root, "templates/hom.md", "x")
    done = run(root, "check")
    assert done.exit_code == 1 and "did you mean templates/home.md?" in done.output


def test_a_block_of_no_place_is_not_copied_to_the_site(root: Path):
    put(root, "overrides/evil.js", "x")
    put(root, "overrides/robots.xml", "x")
    put(root, "overrides/readme.html", "<p>x</p>")
    report = build_archive(root, root / "site")
    assert not {"evil.js", "robots.xml", "readme.html"} & {*tree_of(root / "site")}
    assert {f.code for f in report.warnings} == {"theme.no-place"}


def test_a_mark_of_hers_takes_the_place_of_the_one_that_is_made(root: Path):
    """An earlier kitwright had one of its own there, which many will have replaced."""
    put(root, f"assets/{OUR_MARK}", "<svg xmlns='http://www.w3.org/2000/svg'/>")
    assert look_over(read_theme(root)) == [] and "Yours alone:\n  assets/mark.svg\n" in run(root, "theme").output
    build_archive(root, root / "site")
    assert tree_of(root / "site")["look/mark.svg"] == b"<svg xmlns='http://www.w3.org/2000/svg'/>"


def test_what_a_file_of_hers_names_is_no_slip(root: Path):
    put(root, "assets/picture.png", b"\x89PNG\r\n\0")
    changed(root, HOME, ("What this is", '<img src="look/picture.png" alt="">'))
    put(root, "README.md", "my notes")
    assert look_over(read_theme(root)) == []


# --- taken, outgrown ------------------------------------------------------------------------------


@pytest.fixture
def program(tmp_path_factory, monkeypatch) -> Path:
    """A program's theme of one's own, to be renewed."""
    folder = tmp_path_factory.mktemp("program") / "theme"
    shutil.copytree(PROGRAM, folder)
    monkeypatch.setattr(module, "PROGRAM", folder)
    monkeypatch.setattr(taking, "PROGRAM", folder)
    return folder


def renew(program: Path, name: str, old: str, new: str) -> None:
    text = (program / name).read_text(encoding="utf-8")
    assert old in text
    (program / name).write_text(text.replace(old, new, 1), encoding="utf-8")


def test_the_whole_way_of_a_file_that_is_taken_changed_outgrown_and_mended(root: Path, program: Path):
    assert run(root, "theme").exit_code == 0 and HOME in run(root, "theme").output
    assert run(root, "theme", "home.md", f"theme/{SITE_CSS}", "--take").exit_code == 0
    mine = root / "theme" / HOME
    assert mine.read_bytes() == (program / HOME).read_bytes() and read_theme(root).hers(HOME) is None
    # What she took and did not change gives way to what comes.
    renew(program, SITE_CSS, "{", "{ /* of later */")
    mine.write_bytes(mine.read_bytes().replace(b"What this is", b"What we do").replace(b"\n", b"\r\n"))
    assert [read_theme(root).standings[name] for name in (HOME, SITE_CSS)] == ["current", "old"]
    assert "You never changed assets/site.css" in run(root, "theme", "site.css").output
    done = run(root, "theme")
    assert done.exit_code == 0 and re.search(rf"as they were when you took them:\n  {HOME}  \(of [\d.]+\)\n", done.output)
    renew(program, HOME, "Earlier kits", "Kits of before")
    assert read_theme(root).standings[HOME] == "outgrown"
    listed = run(root, "theme")
    assert listed.exit_code == 1 and "have changed since you took them:\n  templates/home.md" in listed.output
    [told] = look_over(read_theme(root))
    assert told.level == "hint" and told.values == {"old": 1, "outgrown": 1, "unrecorded": 0, "gone": 0}
    shown = run(root, "theme", "templates\\home.md").output
    assert '-<h2 id="earlier">Earlier kits</h2>\n+<h2 id="earlier">Kits of before</h2>' in shown and "What we do" not in shown
    both = run(root, "theme", HOME, "--mine").output
    assert '-<h2 id="about">What this is</h2>\n+<h2 id="about">What we do</h2>' in both and "Kits of before" not in both
    mine.write_text(mine.read_text(encoding="utf-8").replace("Earlier kits", "Kits of before"), encoding="utf-8")
    assert run(root, "theme", HOME, "--done").exit_code == 0
    assert read_theme(root).standings[HOME] == "current" and run(root, "theme").exit_code == 0
    assert "no difference" in run(root, "theme", HOME).output


def test_hers_is_never_written_over(root: Path):
    file = put(root, HOME, "mine")
    done = run(root, "theme", HOME, "--take")
    assert done.exit_code == 2 and file.read_text() == "mine" and not (root / "theme" / RECORD).exists()
    # Of several, none is taken where one can't be.
    assert run(root, "theme", SITE_CSS, HOME, "--take").exit_code == 2 and not (root / "theme" / SITE_CSS).exists()


def test_a_file_copied_by_hand_is_known_by_its_likeness(root: Path, program: Path):
    """No record says from what it was made; of all that kitwright's own ever was, one is most like it."""
    file = changed(root, HOME, ("What this is", "What we do"))
    assert read_theme(root).standings[HOME] == "current"
    renew(program, HOME, "Earlier kits", "Kits of before")
    # The program's of that day is in no list here, since no such version was published.
    assert read_theme(root).standings[HOME] in ("current", "outgrown")
    for text in texts()[HOME]:
        file.write_text(text.replace("What this is", "What we do").replace("\n", "\r\n"), encoding="utf-8", newline="")
        theme = read_theme(root)
        assert theme.origin(HOME).text == text and theme.standings[HOME] == "outgrown"
        told, lines = taking.difference(theme, HOME, mine=True)
        assert told == "mine" and [line for line in lines[2:] if line[0] in "+-"] == [
            '-<h2 id="about">What this is</h2>',
            '+<h2 id="about">What we do</h2>',
        ]
        told, lines = taking.difference(theme, HOME)
        assert told == "since" and not any("What we do" in line for line in lines)


def test_a_file_of_her_own_making_is_told_honestly_until_she_looked(root: Path, program: Path):
    put(root, HOME, "# {{ club.name }}\n\n{{ club.about }}\n")
    [hint] = look_over(read_theme(root))
    assert hint.values["unrecorded"] == 1 and "1 file of which nobody knows" in hint.problem
    done = run(root, "theme")
    assert done.exit_code == 1 and "nobody knows from which version" in done.output
    assert "Nobody knows from which version templates/home.md is" in run(root, "theme", HOME).output
    assert run(root, "theme", HOME, "--done").exit_code == 0 and read_theme(root).standings[HOME] == "current"
    renew(program, HOME, "Earlier kits", "Kits of before")
    assert read_theme(root).standings[HOME] == "outgrown"


def test_what_kitwright_has_no_more_is_told(root: Path, program: Path):
    assert run(root, "theme", "tags.md", "--take").exit_code == 0
    put(root, "templates/tags.md", "# mine\n")
    (program / "templates" / "tags.md").unlink()
    done = run(root, "theme")
    assert done.exit_code == 1 and "no such files any more:\n  templates/tags.md" in done.output
    assert run(root, "theme", "templates/tags.md", "--done").exit_code == 2 and run(root, "theme", "templates/tags.md").exit_code == 2


@pytest.mark.parametrize(
    "asked, word",
    [
        (["hom.md", "--take"], "did you mean templates/home.md"),
        (["../kits/club.yaml", "--take"], "there is no"),
        (["overrides/../../kits.html", "--take"], "there is no"),
        (["/etc/hostname", "--take"], "there is no"),
        (["", "--take"], "there is no"),
        (["--take"], "asks for the name of a file"),
        (["--done"], "asks for the name of a file"),
        ([HOME], "kitwright theme templates/home.md --take"),
        ([HOME, "--done"], "none in your theme"),
    ],
)
def test_a_name_that_can_not_be_is_one_clear_error(root: Path, asked, word):
    done = run(root, "theme", *asked)
    assert done.exit_code == 2 and word in done.output and "Traceback" not in done.output and not (root / "theme").exists()


def test_kitwrights_own_theme_is_not_taken_into_itself():
    done = run(PROGRAM.parent, "theme", HOME, "--take")
    assert done.exit_code == 2 and "the theme of kitwright itself" in done.output and not (PROGRAM / RECORD).exists()
    done = run(PROGRAM.parent, "theme")
    assert done.exit_code == 0 and "kitwright’s own folder" in done.output and "--take" not in done.output, (
        "nothing is offered that is refused"
    )


@pytest.mark.parametrize(
    "text", ["", "[]", "{", '{"files": []}', '{"files": {"a": 1}}', '{"files": {"a": {"from": 1, "text": []}}}', "[" * 100_000, "\xff"]
)
def test_a_record_that_kitwright_did_not_write_is_told(root: Path, text: str):
    file = put(root, RECORD, text.encode("latin-1"))
    with pytest.raises(UserError) as caught:
        read_theme(root)
    assert caught.value.code == "theme.record-broken" and caught.value.place.file == file


def test_a_record_is_read_as_it_was_written(root: Path):
    assert run(root, "theme", HOME, PARTIAL, "--take").exit_code == 0
    said = json.loads((root / "theme" / RECORD).read_text(encoding="utf-8"))["files"]
    assert [*said] == [PARTIAL, HOME] and "\n".join(said[HOME]["text"]) == own(root, HOME)
    assert {o.digest for o in read_theme(root).taken.values()} == {digest(own(root, name).encode()) for name in (HOME, PARTIAL)}


def test_a_take_that_is_cut_short_loses_nothing(root: Path, monkeypatch):
    """Between the record and the file."""
    written = []

    def one(file: Path, data: bytes) -> None:
        if written:
            raise OSError(28, "No space left on device", str(file))
        written.append(file.name)
        file.write_bytes(data)

    monkeypatch.setattr(taking, "write_file", one)
    assert run(root, "theme", HOME, "--take").exit_code == 2
    monkeypatch.undo()
    assert read_theme(root).files == {} and run(root, "theme", HOME, "--take").exit_code == 0
    assert read_theme(root).standings[HOME] == "same"


# --- a renewal ------------------------------------------------------------------------------------


def test_a_renewal_from_a_whole_theme_that_was_copied(tmp_path: Path, quick, monkeypatch):
    """As an earlier kitwright asked for: all of its theme, in which she changed a page; and a kit that is released."""
    monkeypatch.setattr(workers, "cpu_count", lambda: 1)
    root, kits = write_small(tmp_path), tmp_path / "kits"
    shutil.rmtree(kits / SECOND)
    bench.release(bench.kit_in(kits, FIRST), {}, bench.at("2031-04-01 12:00"))
    shutil.copytree(PROGRAM, root / "theme")
    shutil.copytree(OLD_FILES, root / "theme", dirs_exist_ok=True)
    changed(root, "templates/kit.md", ("Told for ", "Reckoned for "))
    # The home page of before several kits could lead it, which asks for its values by the names that they had.
    [old, *_] = [text for text in texts()[HOME] if "newest.kit" in text]
    put(root, HOME, old.replace("What this is", "What we do"))
    published = tree_of(kits)
    report = build_archive(root, root / "site", as_of=bench.at("2031-05-01 12:00"), now=bench.at("2031-05-02 12:00"))
    page = (root / "site" / "kits" / FIRST / "index.html").read_text(encoding="utf-8")
    assert "What we do" in (root / "site" / "index.html").read_text(encoding="utf-8")
    assert "Reckoned for " in page and "Told for " not in page and "Revision 1" in page
    assert (root / "site" / "look" / "site.css").read_bytes() == (PROGRAM / SITE_CSS).read_bytes()
    assert [f.code for f in report.warnings] == ["theme.renewed"]
    done = run(root, "theme")
    told = dict(re.findall(r"^(\w[^\n]*):\n((?:  [\w./-]+[^\n]*\n)+)", done.output, re.M))
    names = {
        re.split("[,;]", heading)[0] + ("; of now" if ";" in heading else ""): re.findall(
            r"^  ([\w./-]+/[\w./-]+|mkdocs\.yml)$", lines, re.M
        )
        for heading, lines in told.items()
    }
    assert names["Yours"] == [HOME] and names["Yours; of now"] == ["templates/kit.md"] and done.exit_code == 1
    assert SITE_CSS in names["Old copies that you never changed"] and "templates/words.md" in names["The same as kitwright’s own"]
    assert sum(map(len, names.values())) == len(read_theme(root).files)
    # What is told can be done: with the copies gone, nothing looks different.
    before_it = tree_of(root / "site")
    for name, standing in read_theme(root).standings.items():
        if standing in ("same", "old"):
            (root / "theme" / name).unlink()
    build_archive(root, root / "site", as_of=bench.at("2031-05-01 12:00"), now=bench.at("2031-05-02 12:00"))
    assert tree_of(root / "site") == before_it and tree_of(kits) == published


def test_a_macro_that_came_with_a_renewal_is_told_as_lacking(root: Path, program: Path):
    assert run(root, "theme", "parts.html", "--take").exit_code == 0
    (root / "theme" / "templates" / "parts.html").write_text(own(root, "templates/parts.html") + "{# mine #}", encoding="utf-8")
    renew(program, "templates/parts.html", "{% macro picture", "{% macro banner(x) %}{% endmacro %}\n{% macro picture")
    renew(program, HOME, "{% set kit", "{{ parts.banner(1) }}{% set kit")
    [found] = faults(root)
    assert found.code == "theme.lacks" and found.values["macro"] == "banner" and found.values["asks"] == HOME


def test_the_table_of_earlier_themes_grows_and_is_whole():
    """`buildtools/theme_before.py` adds to it when a version is published; DEVELOPERS.md says when."""
    import theme_before

    table = BEFORE.read_text(encoding="utf-8")
    new = theme_before.grown(table, [("templates/home.md", b"new\r\n"), ("templates/new.md", b"")], "9.9.9")
    assert {*table.splitlines()} < {*new.splitlines()} and "# 9.9.9" in new and f"{digest(b'new' + bytes([10]))} {HOME}" in new
    assert theme_before.grown(new, [("templates/home.md", b"new\n")], "9.9.9") == new
    assert theme_before.grown(table, []) == table
    assert len(theme_before.theme_now()) == sum(len(Theme().programs_in(part)) for part in PARTS) + 1
    log = (PROGRAM.parent / "buildtools" / "CHANGELOG.md").read_text(encoding="utf-8")
    published = re.findall(r"^## (\d+\.\d+\.\d+)\b", log, re.M)[1:]
    assert [version for version in published if f"# {version}\n" not in table] == []
    for name in tree_of(OLD_FILES):
        assert digest((OLD_FILES / name).read_bytes()) in before()[name]
    later = theme_before.said(texts(), [("templates/home.md", b"new\r\n"), ("assets/one.ttf", b"\0")])
    assert later == {name: [*(["new\n"] if name == HOME else []), *known] for name, known in texts().items()}
    assert taken.packed(texts()) == taken.packed(dict(reversed(texts().items())))
    for name, known in texts().items():
        assert {digest(text.encode()) for text in known} <= before()[name], "whoever is in one list is in both"
    assert plain(b"a\r\nb\0") == b"a\r\nb\0", "what is no text stays"


# --- the preview ----------------------------------------------------------------------------------


def test_the_preview_follows_her_theme_even_one_that_is_begun_meanwhile(root: Path):
    said: list[str] = []
    shown = Preview(root, port=0, say=said.append)
    try:
        shown.start()
        threading.Thread(target=shown.follow, daemon=True).start()
        changed(root, "templates/words.md", ("# ", "# Newly "))
        assert shown.wait_for_try(2, 120)
        while "Newly" not in (shown.site / "words.html").read_text(encoding="utf-8"):
            assert shown.wait_for_try(shown.tries + 1, 120)
        tries = shown.tries
        put(root, "templates/words.md", "one\n{% if %}\n")
        assert shown.wait_for_try(tries + 1, 120)
        assert "templates/words.md:2: error: this template can't be read" in said[-1]
    finally:
        shown.stop()
