"""What a kit folder says, as typed classes.

Read with pydantic from the plain text of `kit.yaml` and `club.yaml`; the JSON Schema that
editors complete and check against is generated from these same classes, and shows what
stands under each field. A module for each part of a folder.
"""

from kitwright.kit.model.after import Extra, Link, Question, Sample, Used, Video
from kitwright.kit.model.card import FaceSpec
from kitwright.kit.model.club import Club, FoldLines
from kitwright.kit.model.designs import DESIGN_FORM, DESIGNED, DesignSpec
from kitwright.kit.model.fixing import UNMEASURED, BandSpec, Fixing, PocketSpec, ShakerSpec
from kitwright.kit.model.front import LYING_WORDS, Decoration, Front, Item, Laid, Look, Lying, SentimentSpec
from kitwright.kit.model.guides import STAGES, STAND_INS, Guide, Stage
from kitwright.kit.model.kit import LIVING, KitSpec, PastSpec, SeveralSpec, model_of
from kitwright.kit.model.liner import LinerSpec
from kitwright.kit.model.moments import Moment, Task
from kitwright.kit.model.papers import FACES, Paper, PaperFace
from kitwright.kit.model.people import Agreed, Anniversaries, Consent, PersonSpec, Thanks
from kitwright.kit.model.pieces import At, Notch, Parallelogram, Piece, Scalloped, Shape, ShapedPunch, Tag, Trapezoid, Window
from kitwright.kit.model.text import FORGOTTEN, KEY_FORM, LABEL_FORM, Cites, Edge, Meant, Pointing, Spec

__all__ = [
    "Agreed",
    "Anniversaries",
    "At",
    "BandSpec",
    "Cites",
    "Club",
    "Consent",
    "DESIGNED",
    "DESIGN_FORM",
    "Decoration",
    "DesignSpec",
    "Edge",
    "Extra",
    "FACES",
    "FORGOTTEN",
    "FoldLines",
    "FaceSpec",
    "Fixing",
    "Front",
    "Guide",
    "Item",
    "KEY_FORM",
    "KitSpec",
    "LABEL_FORM",
    "LIVING",
    "Laid",
    "LinerSpec",
    "Link",
    "LYING_WORDS",
    "Look",
    "Lying",
    "Meant",
    "Moment",
    "Notch",
    "Paper",
    "PaperFace",
    "Parallelogram",
    "PastSpec",
    "PersonSpec",
    "PocketSpec",
    "Pointing",
    "Piece",
    "Question",
    "STAGES",
    "STAND_INS",
    "Sample",
    "Scalloped",
    "SentimentSpec",
    "SeveralSpec",
    "ShakerSpec",
    "Shape",
    "ShapedPunch",
    "Spec",
    "Stage",
    "Tag",
    "Task",
    "Thanks",
    "Trapezoid",
    "UNMEASURED",
    "Used",
    "Video",
    "Window",
    "model_of",
]
