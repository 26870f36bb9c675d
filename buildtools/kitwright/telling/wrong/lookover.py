"""What may change after a release, and does not go together: photos, the video, files for members."""

from __future__ import annotations

from kitwright.errors import Said
from kitwright.telling.words import listed


def linked_photos() -> Said:
    return "this is a link, and nothing in it is published", "put the folder itself here"


def video_out_of_order(stage: str, before: str) -> Said:
    return f"in the video “{stage}” begins before “{before}”, which comes first at the desk", "look whether the two times are meant so"


def video_of_no_stage(stage: str, stages: tuple[str, ...]) -> Said:
    return (
        f"the video has a time for “{stage}”, a step that this kit does not have",
        f"its steps are {listed(stages)}; any other moment can stand under  chapters",
    )


def members_in_photos(file: str, folder: str) -> Said:
    return f"{file} is for members, and the pictures in {folder} are in the public site", "keep it in another folder, such as extras"
