"""What `--help` says: the whole command, each command with examples, each option; and what any command says when it is stopped.

This is also the list of the commands: each is a module of `kitwright.cli` by the same name. It is all
that is read for `kitwright --help`, so it imports next to nothing.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from kitwright.telling.formats import SPOKEN


class Help(NamedTuple):
    """One command's help."""

    about: str
    """What it does, its first sentence by itself first. A paragraph that begins with `\\b` keeps its lines."""
    examples: tuple[str, ...] = ()
    """What can be typed after `kitwright`."""
    options: Mapping[str, str] = {}
    """What each option does, by its first name."""


WHOLE = Help(
    """Turn a folder of kits into a published archive of cutting guides.

\b
A month's work, by example:
  kitwright propose --paper "3 of 8x8"   which layouts do these sheets give?
  kitwright new 2027-03-river-stones     write a starter kit to change
  kitwright check 2027-03-river-stones   is everything in it right?
  kitwright show 2027-03-river-stones    what comes out: sizes, sheets, guides
  kitwright plan 2027-03-river-stones    how the sheets are cut, step by step
  kitwright arrange 2027-03-river-stones how else the same pieces can go
  kitwright preview                      look at the site while you write
  kitwright release 2027-03-river-stones publish it, and keep it as it is
  kitwright build                        make the site in site/
  kitwright erratum 2027-03-river-stones publish a correction

A kit is named by its id, by its short name where only one has it (river-stones),
or by the path to its folder. An archive of your own begins with  kitwright begin.

Exit status: 0 all well, 1 something was found or you said no, 2 something
can't be read, written or understood.
""",
    options={"--root": "The folder that holds kits/; found from where you stand when left out."},
)

STOPPED = "Stopped; nothing is half done."
"""What stands where a command was interrupted."""

_AS_OF = {"--as-of": "The moment that counts instead of now; without a zone it is the club's own time."}
_JSON = {"--json": "Print plain data instead of text."}

COMMANDS = {
    "arrange": Help(
        """Print how else the same pieces can go, and sets for the batch.

Ways that are one card turned round count as one. The sets are chosen from the pieces that
the sheets really yield. What the kit lets vary besides the order, such as the fold, is
worked out and checked like the card itself.
""",
        ("arrange 2027-03-river-stones", "arrange 2027-03-river-stones --json"),
        _JSON,
    ),
    "back": Help(
        """Put the site in place again that stood there before the last build that changed it.

The two change places, so typed twice it puts the newer one back. What is uploaded already
stays as it is until you upload the folder again. A build for a moment to come is never kept.
""",
        ("back",),
        {"--out": "The folder of the site; site/ when left out."},
    ),
    "begin": Help(
        """Write an archive of your own: a club file, a first kit, a folder for people.

You are asked for the club's name, the city of its clocks, its region and the site's address;
what is given by an option isn't asked, and away from a terminal nothing is. The first
kit is of this month, so that the first build shows it. Nothing that is there is changed.
""",
        ("begin ../my-club", 'begin ../my-club --name "The Paper Bench" --time-zone Lisbon --region metric'),
        {
            "--name": "What the club is called.",
            "--time-zone": "The city whose clocks its reveals go by; this machine's when left out.",
            "--region": "us: inches, Letter and US envelopes. metric: millimetres, A4 and ISO envelopes.",
            "--address": "Where the site will stand, such as https://cards.example/.",
        },
    ),
    "brief": Help(
        """Write what you send each month: mail, posts, notes and briefs.

It is the announcement by mail, posts in three lengths, the text under the video, the members'
note, the team's brief and the guest's: one of them, or all in a folder. Sizes, counts and times
come from the kit; the wording stands in briefs/, which your own theme can change. Before the
kit shows, what is for the public says on top that it is held back.
""",
        ("brief 2027-03-river-stones --all", "brief 2027-03-river-stones --for team", "brief 2027-03-river-stones --for viewers --plain"),
        {
            "--for": "Which one: team, guest, mail, posts, viewers (under the video) or members.",
            "--all": "Write all of them into a folder, as plain text, the mail as HTML and as a whole mail too.",
            "--plain": "Plain text instead of Markdown.",
            "--html": "The mail as HTML.",
            "--eml": "The mail as a whole, text and HTML in one, as a mail program opens it.",
            "--out": "The folder for --all; KIT-texts when left out.",
            **_AS_OF,
        },
    ),
    "build": Help(
        """Make the whole site: pages, pictures and printables.

Only what is due is published. Of released kits the very files that were kept are copied; a kit
before its reveal leaves no trace. A build that fails leaves yesterday's site as it was.
""",
        ("build", 'build --as-of "2027-03-06 10:00" --out tomorrow', "build --for team"),
        {
            "--out": "Where the site goes; site/ when left out.",
            "--as-of": "Build the site as it will be, or was, at a moment: 2027-03-06 10:00. Now when left out; one to come needs --out.",
            "--for": "team: a preview with upcoming kits, in site-team/. members: the files for members, in site-members/. "
            "Keep both behind a password.",
            "--on": "Have the kits made on a cluster of Dask’s, by the address of its scheduler: tcp://host:8786.",
        },
    ),
    "calendar": Help(
        """List what is due when, in the club's own time.

The calendar file names upcoming kits, so it is for the team and not for the site.
""",
        ("calendar", "calendar --as-of 2027-03-01 --ics team.ics"),
        {
            "--ics": "Write an iCalendar file for the team, with an alarm a day before each deadline.",
            "--agree": "Let what is to come move with the club to the time zone that club.yaml says now.",
            **_AS_OF,
        },
    ),
    "check": Help(
        """Look kits over before anybody cuts paper.

Labels, counts, sums, cuts, envelope and more are looked at. Without a name, every kit is
checked. Each finding says file and line, what is wrong, and what would be right. Errors stop
a build; warnings and hints don't.
""",
        ("check", "check 2027-03-river-stones", "check kits/2027-03-river-stones --quiet"),
        {"--quiet": "Leave hints out."},
    ),
    "cutfiles": Help(
        f"""Write cut files for electronic cutters, {SPOKEN}.

They are at true size, for each piece and set out on cutting mats. A folder that already
holds cut files is written anew; any other that is not empty is left as it is.
""",
        (
            "cutfiles 2027-03-river-stones",
            "cutfiles 2027-03-river-stones --mat 12x24 --mat A4",
            "cutfiles 2027-03-river-stones --out cut --margin 1/2 --gap 1/8",
        ),
        {
            "--out": "The folder to write; when left out, the kit's id with -cut-files, at the top of the archive that you stand in.",
            "--mat": 'A cutting mat by its measure: "12x12 in", "12x24 in", A4. Several may be asked for.',
            "--margin": "The mat's rim where nothing is cut; a quarter of an inch when left out.",
            "--gap": "Between neighbours; a sixteenth of an inch, or none where that spares a sheet, when left out.",
            "--folds": "Score lines solid, for a scoring tool, or dashed, for a blade; as the club file says, else solid.",
        },
    ),
    "draw": Help(
        """Draw one kit's printables and pictures into a folder.

They are what its readers get: the printable in each edition and ink, contact sheets, and in
pictures/ those of its page. A kit is drawn as its files are now, published or not, so every page says
PREVIEW. Drawn again, only files that differ are written anew; what you put beside them stays.
""",
        ("draw 2027-03-river-stones", "draw river-stones --out drawn"),
        {"--out": "The folder to write; when left out, the kit's id with -drawn, at the top of the archive that you stand in."},
    ),
    "erratum": Help(
        """Publish a correction: the kit as it is, as the next revision.

The erratum is drafted from all that differs from the last revision, and says what the
owners of earlier ones have to do. You are asked only for what can't be known: who
spotted it, whether she agreed to be thanked, and what to do with pieces already cut.
Before the kit's reveal there is nothing to correct: then it is released anew instead.
""",
        (
            "erratum 2027-03-river-stones",
            'erratum 2027-03-river-stones --spotted-by "Noor Hale" --thank --advice "Trim the strips you have." --yes',
        ),
        {
            "--spotted-by": "Who spotted it; asked for when left out.",
            "--thank": "Whether she agreed to be thanked by name.",
            "--advice": "What to do with pieces already cut; asked for when left out.",
            "--was-public": "Publish a correction though the kit is not public yet, since you know that somebody has it.",
            **_AS_OF,
            "--yes": "Publish without asking.",
        },
    ),
    "forget": Help(
        """Take a person out of every file below kits/.

It happens whole or not at all. A revision that names her is changed too; its code, day and
number stay. What can't be changed is listed. Build the site anew afterwards, the team's and
the members' too.
""",
        ('forget "Noor Hale"',),
        {"--yes": "Don't ask."},
    ),
    "import": Help(
        """Make past kits of old printables: of the PDFs in a folder, and in those below it.

Month and title are guessed from their names, folders and notes; each kit.yaml says from what,
and how sure that is, for you to correct. Page 1 becomes the picture, the words are found by
search. First you see what would be done. A PDF that is in kits/ already is left as it is, so
the same folder can be imported again when more have been put into it.

What nothing dates you are asked for, at a terminal; elsewhere it is left out and named.
""",
        ("import ../old-printables", 'import "../old/boats (1).pdf" --month 2019-07', "import kits"),
        {"--month": "The month that all of these are from, whatever their names say.", "--yes": "Don't ask."},
    ),
    "new": Help(
        "Write a starter kit to change: small, sound and commented; or one from the first layout that a question gives.",
        ("new 2027-03-river-stones", 'new 2027-03-river-stones --title "River stones"', "new 2027-03-river-stones --from question.yaml"),
        {
            "--title": "Its title; made from the name when left out.",
            "--from": "A question for layouts in a short file, as for  kitwright propose: the kit is of its first layout.",
        },
    ),
    "pictures": Help(
        """Draw the finished cards for the video and for posts, on a plain ground.

The card, each design by itself, a fan, the whole batch in rows, a gate or z-fold open: each at 16:9, 1:1, 4:5, 9:16 and
1.91:1, at least 1,440 pixels wide, and every card on nothing, to compose with. Words and cards keep
clear of the edges, and over a tall video of what its place lays there. alt.txt says what each
picture shows. Drawn again, only what differs is written; a picture that you changed is not drawn over.
""",
        (
            "pictures 2027-03-river-stones",
            "pictures river-stones --title --ratio 16:9 --ratio 9:16",
            'pictures river-stones --words "Out on Saturday" --ground sage',
        ),
        {
            "--out": "The folder to write; when left out, the kit's id with -pictures, at the top of the archive that you stand in.",
            "--ratio": "Draw this shape alone: 16:9, 1:1, 4:5, 9:16 or 1.91:1. It can be given several times.",
            "--design": "Show this design alone.",
            "--look": "Show this look of the card alone.",
            "--ground": "What the cards lie on: a colour of paper (linen, sage, #7a9e7e), one of the kit's papers by its key, or a colour of the club's: page, "
            "accent, second or ink.",
            "--title": "Set the kit's title and month with the cards.",
            "--words": "Set these words instead of the title; with --title the month stands below them.",
            "--with-scans": "Show scans of papers too that stay off the public site.",
        },
    ),
    "plan": Help(
        """Print how the sheets are cut, step by step, and what is proved.

Your own guides stay yours and are compared with the planner's. What you ask
differently, another number of cards, another sheet, a one-way paper, is planned anew.
""",
        (
            "plan 2027-03-river-stones",
            "plan 2027-03-river-stones --cards 20",
            "plan 2027-03-river-stones --paper white=A4 --one-way meadow",
            "plan 2027-03-river-stones --json",
        ),
        {
            "--cards": "Plan for this many cards.",
            "--paper": "Plan a paper from another sheet: white=A4.",
            "--one-way": "Plan a paper as if its pattern had an up.",
            **_JSON,
        },
    ),
    "preview": Help(
        "Show the site in your browser while you write. It is on this machine only, and built again whenever you save.",
        ("preview --port 8123",),
        {"--port": "The port on this machine."},
    ),
    "propose": Help(
        """Find layouts from the sheets on your table: sizes that come out of them and add up on the card.

Only the paper must be said; then it tells what that gives on usual cards. What you wish besides
narrows it down. A dozen that differ are shown, each with its sizes and why one would choose it,
and drawn into a folder. One of them is picked by its number and becomes a kit. The same question
gives the same layouts, anywhere. Ctrl+C ends the search with what was found until then.
""",
        (
            'propose --paper "3 of 8x8" --card 5x7 --cards 8',
            'propose --paper "2 of A4 one-way" --card "ISO A6" --cards 8 --band 30',
            'propose --paper "2 of meadow" --paper "1 of 12x12 as Dusk" --share --designs 2',
            "propose --improve river-stones",
            "propose --same-pieces river-stones",
            "propose --same-pieces river-stones --pick 2 --into kits/2028-06-river-again",
            "propose --question question.yaml --pick 3 --into kits/2028-05-meadow-strips",
        ),
        {
            "--paper": "Patterned sheets: how many of which, one-way or not, and their name; a paper of club.yaml by its name.",
            "--card": "The closed front, width x height as it stands, or the name of a sheet. Usual cards when left out.",
            "--cards": "How many cards; what the sheets give when left out.",
            "--fold": "side, top, gate or flat; side when left out.",
            "--envelope": "The envelope it goes into; the smallest known one that it fits when left out.",
            "--mat": "How much of the base shows round a mat; no mat when left out.",
            "--cardstock": "The sheet for bases and mats; Letter, or A4 in millimetres, when left out.",
            "--designs": "1, or 2 that share the sheets.",
            "--pieces": "How many pieces a card has: 4, or 3-5.",
            "--kinds": "How many different sizes at most; 3 when left out.",
            "--family": "A sort of layout, by its name; all when left out.",
            "--border": "From the edge to the pieces; 1/8 or 3 mm when left out, several with commas.",
            "--gap": "Between pieces; as the border.",
            "--band": "A band free for the greeting, at least so high.",
            "--grid": "Sizes are whole numbers of these: 1/8, 1/16 or mm.",
            "--punch": "A size that a punch of yours makes: every layout has it or another of your tools.",
            "--die": "A size that a die of yours makes.",
            "--share": "Papers meet on every card.",
            "--whole": "Each card is of one paper.",
            "--waste": "How much of all sheets may be left over; 15% when left out.",
            "--slack": "How much smaller every sheet may be, both ways.",
            "--unit": "What bare numbers are in, in or mm; the club's own when left out, unless a measure says another.",
            "--question": "A short file with the same words, a line each; an option stands over its line.",
            "--pick": "The number of a layout, to make a kit of it.",
            "--into": "The kit to write: kits/YYYY-MM-SHORT-NAME.",
            "--improve": "A kit that is there: the nearest sizes that leave less over, take fewer measures or bear shorter sheets.",
            "--same-pieces": "A kit that is there: what else the very pieces of its sheets make, on usual cards.",
            "--out": "The folder for the pictures; proposals when left out.",
            **_JSON,
        },
    ),
    "publish": Help(
        """Take the finished site to your host, and read back what is public.

The club file says where: a folder at a host that rsync or SFTP reaches, or a command of your
own. You see what goes and what is removed before anything does. Removed is only what was put
there from here and is gone here.
""",
        ("publish --dry-run", "publish", "publish --from tomorrow --yes"),
        {
            "--from": "The folder of the site; site/ when left out.",
            "--dry-run": "Say what would go and what would be removed, and stop.",
            "--yes": "Don't ask.",
            "--adopt": "Write over files of the same names that lie at the host and did not come from here.",
        },
    ),
    "release": Help(
        """Publish a kit as revision 1, and keep it as it is.

What you typed, what was worked out and every file that readers can download are kept in
its folder published/. Refuses while check has errors; warns when nobody has test-cut this
very state. Typed again before the reveal it replaces what nobody could have had yet; after
that, changes are published with  kitwright erratum.
""",
        ("release 2027-03-river-stones", 'release 2027-03-river-stones --as-of "2027-03-06 10:00"', "release --carry-over"),
        {
            **_AS_OF,
            "--adopt": "Take releases into the ledger that are in none yet: all of an archive older than its ledger, or the named kit's.",
            "--carry-over": "Keep what was worked out, and the files, of revisions that an earlier kitwright published without: of all, or of the named kit's.",
            "--take-back": "Take back what nobody could have had yet, and release nothing instead.",
            "--new-address": "After the site moved: publish the named kit, or every kit, anew with a code that leads to the new address. No correction is told.",
            "--new-form": "Publish the named kit, or every kit, that an earlier kitwright published anew in the form that printables have now. No correction is told.",
            "--as-drawn": "With --carry-over: keep printables as they are drawn now where they don't come out as they were published.",
        },
    ),
    "show": Help("Print sizes, sheets, guides, and how the front adds up.", ("show 2027-03-river-stones",)),
    "theme": Help(
        """List what of your theme stands over kitwright's, and what has been outgrown.

Your folder theme/ holds only what you change, file by file. After a renewal this tells which
files kitwright has changed since you took them; with the name of one it shows what is new there.
""",
        (
            "theme",
            "theme templates/home.md --take",
            "theme templates/home.md",
            "theme templates/home.md --mine",
            "theme templates/home.md --done",
        ),
        {
            "--take": "Copy kitwright's file into your theme, to be changed; one that is there already stays.",
            "--mine": "Show what yours and kitwright's differ in.",
            "--done": "Note that you looked, and carried over what you want: yours is of now.",
        },
    ),
}
