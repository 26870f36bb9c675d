"""What `kitwright begin` asks, writes into a new archive, and says of it. Braces are filled in."""

from __future__ import annotations

from pathlib import Path

# --- asked ----------------------------------------------------------------------------------------

QUESTIONS = "A few questions; Enter alone takes what stands in brackets, and all can be changed later."
NAME = "What is your club called?"
ZONE = "In which city are your clocks, such as Lisbon or America/Chicago?"
REGION = "Inches and Letter (us), or millimetres and A4 (metric)?"
ADDRESS = "At which web address will the site stand? (Enter if you don’t know yet)"


# --- written --------------------------------------------------------------------------------------

_CLUB = """\
# yaml-language-server: $schema=club.schema.json
#
# Who publishes, and what every kit takes for granted. Change what you like, then run   kitwright check
# Lines such as #prices are asleep: take the # away, and they count.

name: {name}
tagline: One kit a month       # one line under the name
about: >-                      # what this archive is, for the home page
  Each kit here cuts a few sheets of patterned paper and cardstock into a batch of cards that
  share one layout. Choose one, print its pages, and cut along.

# The place whose clocks your reveals go by.
time zone: {zone}
# us begins new kits in inches, metric in millimetres.
region: {region}
# Where the site will stand: then printables lead to it by a code, and the site has a feed.
{address}

# Where the team's own site will stand, behind a password: then briefs lead there.
#team site: https://cards.example/team/

# Where `kitwright publish` takes the site, if your host has rsync or SFTP; never with a password.
#publish:
#  to: anna@host.example:www/cards     # or sftp://anna@host.example/~/www/cards

# How it looks; each may be left out. Pictures lie beside this file: a logo is an SVG, PNG, JPEG or WebP, the one that goes
# with a link to your site best 1200 × 630 pixels. Colours stand in quotes; the rest of the palette follows from them.
#logo: logo.svg
#colours:
#  accent: "#8E2458"           # what to do now: buttons, lines to cut
#  second: "#2F6B3C"           # links and marks
#links:                        # at the foot of every page
#  - {{name: Our channel, address: "https://video.example/"}}
#  - {{name: Write to us, address: "mailto:hello@cards.example"}}
#share picture: {{file: share.jpg, alt: Three cards on a bench}}

# The trimmer on your table, from which the guides are checked. Measure yours.
trimmer:
  cut length: {cut_length:<16} # the longest cut
  finest mark: {finest_mark:<15} # on its ruler
  least hold: {least_hold:<16} # the narrowest paper it holds flat beside the blade

# Papers that you use all year: a kit may name them without saying them again.
#papers:
#  linen: {{kind: cardstock, name: Linen cardstock, size: {sheet}, weight: {weight}, front: {{look: plain, colours: linen}}}}

# What you pay, if the page of a kit should say what a card costs. Printables carry no prices.
#prices:
#  currency: {currency}
#  patterned: 0.90            # a sheet
#  cardstock: 0.30
#  envelope: 0.20

# The tags that your kits bear, by what they tell: readers choose by them, and check finds slips in them.
#tags:
#  technique: [stamped, scraps]
#  occasion: [birthday, thank you]
#  season: [spring, winter]

# Cut files draw score lines whole, for a scoring tool; or as dashes, for a blade.
#fold lines: dashed

# What readers may do with your printables. This is your word to them: make it what you mean.
terms: >-
  Make as many cards as you like from our kits, to give or to sell. Please don’t pass the
  printables on: send a friend to the kit's page instead, where the newest revision is.

cautions:
  - Trimmer and knife blades cut fingers as easily as paper. Keep the hand that guides off the cutting line.
  - Glue with a window open, and as its label says.
  - Dots, beads and other small parts are not for children under three, nor for pets.

# Your design team; each has a folder of her own in people/, with what she agreed to.
#team:
#  - {{who: ada-bell, role: design team}}
"""
_ASLEEP = "#address: https://cards.example/"
_MEASURES = {
    "us": {"cut_length": "12", "finest_mark": "1/16", "least_hold": "3/4", "sheet": "Letter", "weight": "80 lb cover", "currency": "$"},
    "metric": {"cut_length": "310 mm", "finest_mark": "1 mm", "least_hold": "20 mm", "sheet": "A4", "weight": "220 gsm", "currency": "€"},
}


def club_text(name: str, zone: str, region: str, address: str | None) -> str:
    """A new club.yaml.

    Args:
        name: quoted as YAML where that needs it, like the address.
        zone: an IANA name.
        region: `us` or `metric`.
        address: where the site will stand, if that is known.
    """
    line = f"address: {address}" if address else _ASLEEP
    return _CLUB.format(name=name, zone=zone, region=region, address=line, **_MEASURES[region])


_README = """\
# {name}

This folder is an archive of paper-craft kits. kitwright makes its printables and its site from what stands here.

| here | what it is |
| --- | --- |
| `kits/club.yaml` | who publishes: the name, the clocks, the trimmer, the terms |
| `kits/{kit}/` | the first kit, to change; each kit has a folder like it |
| `kits/people/` | a folder for each person whom the site names, with what she agreed to |
| `site/` | the site, from the first build on |

## Commands

Type them in this folder or in any folder inside it. Where this page says `kitwright`, type

    {command}

or that word alone, {once}

    {shorter}

What a month takes:

    kitwright new {next}-river-stones    write a kit to change, named by year, month, short name
    kitwright check river-stones          is everything in it right?
    kitwright show river-stones           what comes out: sizes, sheets, guides
    kitwright preview                     look at the site while you write
    kitwright release river-stones        publish it as revision 1, and keep it as it is
    kitwright build                       make the site in site/
    kitwright erratum river-stones        publish a correction

Have you old printables? `kitwright import` with their folder makes past kits of them. `kitwright --help` lists the rest. All that a kit can say stands in kitwright’s own README.

## Publish by hand

1. `kitwright check`, then `kitwright release` with the kit’s name.
2. `kitwright build`, then open `site/index.html` and look; on a phone too.
3. Upload all that is in `site/` to your web host, in the place of the old files, and delete there what is no longer in your folder. Once `kits/club.yaml` says where it goes, `kitwright publish` does this step.

Something went up too early, or with a fault? Type `kitwright back`, and upload `site/` again: it is the site before. Then mend the kit; `kitwright check` says what to type next.

Nothing is public before you upload. A kit whose `reveal` is still to come is not in the site. Never upload `kits/`: it holds what is still to come.

## Keep

Back up this whole folder. What was published stands in `kits/*/published/` and `kits/releases.yaml`: never edit those. Only what `.gitignore` names can be made anew, but for `kits/people/private.yaml`, if you have one: it is kept out of version control, so your backup needs it.

A newer kitwright changes nothing here: put it in the place of the old one, then type `kitwright check` and `kitwright build`.
"""
ONCE = "once you have put this line into {file}:"
ONCE_ON_WINDOWS = "after this line, once in each window (the first for PowerShell, the second for cmd):"


def readme_text(name: str, kit: str, following: str, command: str, once: str, shorter: str) -> str:
    """The README of a new archive.

    Args:
        name: the club's.
        kit: the id of its first kit.
        following: the month after, as `2027-04`.
        command: how any command begins on this machine.
        once: when the line after it is typed.
        shorter: what makes the word `kitwright` do.
    """
    return _README.format(name=name, kit=kit, next=following, command=command, once=once, shorter=shorter.replace("\n", "\n    "))


GITIGNORE = """\
# made anew by kitwright
/site/
/site-team/
/site-members/
/.*-before/
/tomorrow/
/earlier/
/*-cut-files/
/*-drawn/
/.made/
/*.ics
# what is not whole yet, and is gone when a command ends
.kitwright-*
.change-ready/
.*-old/
# members' names stay with you
private.yaml
# left by desktops
.DS_Store
Thumbs.db
desktop.ini
"""
GITATTRIBUTES = """\
# What was published is known by its checksum, so git must not change a byte of it.
kits/*/published/** -text
# Nor inside printables and pictures, which it may take for text.
*.pdf binary
*.jpg binary
*.jpeg binary
*.png binary
*.webp binary
# Where two copies each published, the lines of both stay.
kits/releases.yaml -text merge=union
"""
GITKEEP = "So that git keeps this folder while nobody is in it.\n"


# --- said -----------------------------------------------------------------------------------------


def wrote(folder: Path, kit: str) -> str:
    """An archive was begun."""
    return f"Wrote your archive to {folder}, with a first kit to change: {kit}."


def taken(zone: str, region: str) -> str:
    """What counts in the new archive."""
    units = {"us": "inches, Letter and US envelopes", "metric": "millimetres, A4 and ISO envelopes"}[region]
    return f"It goes by the clocks of {zone}, and by {units}; kits/club.yaml says so, and more."


NOWHERE = "This machine names no place for its clocks, so the archive goes by UTC: write your city into kits/club.yaml."
NEXT = "Type these two next, then open site/index.html in your browser:"
FROM_THERE = "Commands work in every folder inside it; its README.md tells the rest."


def shorter(file: str | None) -> str:
    """Comes before the line that makes the command short."""
    if file is None:
        return "To type just  kitwright  from then on, type this once in each window (the first in PowerShell, the second in cmd):"
    return f"To type just  kitwright  from then on, type this too, and put it into {file} for good:"
