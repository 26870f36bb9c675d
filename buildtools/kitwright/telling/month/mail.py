"""The announcement as a mail: one message with a plain part and an HTML part (RFC 5322, RFC 2046 section 5.1.4).

It is a draft without recipients. Its date is the moment at which the kit shows, its boundary
follows from its words, so that the same kit gives the same bytes.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from email.headerregistry import Address
from email.message import EmailMessage
from email.policy import SMTP
from hashlib import sha256

from kitwright.kit.model import Club

MAILTO = "mailto:"


@dataclass(frozen=True)
class Mail:
    """An announcement."""

    subject: str
    text: str
    html: str
    """A whole document."""


def sender_of(club: Club) -> str:
    """Where the club is written to, by the first of its links that is a mail address; empty where there is none."""
    return next((link.address.removeprefix(MAILTO) for link in club.links if link.address.startswith(MAILTO)), "")


def message(mail: Mail, club: Club, date: dt.datetime) -> bytes:
    """A mail as a file, with lines that end in CRLF.

    Args:
        mail: what it says.
        club: whose; it has an address to write to.
        date: when it is meant to be sent.
    """
    made = EmailMessage(SMTP)
    user, _, domain = sender_of(club).partition("@")
    made["Date"] = date
    made["From"] = Address(club.name, user, domain)
    made["Subject"] = mail.subject
    made.set_content(mail.text, cte="quoted-printable")
    # The last alternative is the best one.
    made.add_alternative(mail.html, subtype="html", cte="quoted-printable")
    made.set_boundary(f"kitwright-{sha256((mail.text + mail.html).encode()).hexdigest()[:32]}")
    return made.as_bytes()
