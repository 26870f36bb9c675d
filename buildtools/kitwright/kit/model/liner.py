"""A liner, whose size follows from its envelope."""

from __future__ import annotations

from pydantic import model_validator

from kitwright.kit.fields import EnvelopeField, LengthField, MarginField, Unfit
from kitwright.kit.model.text import Spec


class LinerSpec(Spec):
    """An envelope liner: it covers the inside of the envelope and of its flap. Its size is worked out."""

    envelope: EnvelopeField
    """The envelope that it lines, by unmistakable name or measure."""
    flap: LengthField
    """How deep the flap is, from its fold to its tip: measure yours."""
    gum: MarginField | None = None
    """How wide the gummed edge of the flap is; ½ in or 12 mm when left out."""

    @model_validator(mode="after")
    def _flap_of_an_envelope(self) -> LinerSpec:
        across = min(self.envelope.size.width, self.envelope.size.height)
        if self.flap >= across:
            raise Unfit("spec.flap-too-deep", flap=self.flap, envelope=self.envelope.size)
        if self.gum is not None and self.gum >= self.flap:
            raise Unfit("spec.gum-past-the-flap", gum=self.gum, flap=self.flap)
        return self
