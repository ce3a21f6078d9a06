"""The kinds of stage that a cook goes through, in the trade's words."""

from dataclasses import dataclass


@dataclass(frozen=True)
class StageKind:
    """One kind of stage.

    ``cooks`` says whether its minutes are cooking minutes (also with the element off, under pressure);
    ``heats`` whether its energy grows with the amount of food; ``attended`` whether the cook usually stands there.
    """

    key: str
    label: str
    cooks: bool
    heats: bool
    attended: bool


STAGE_KINDS: dict[str, StageKind] = {
    kind.key: kind
    for kind in (
        StageKind("preheat", "preheat", cooks=True, heats=False, attended=False),
        StageKind("brown", "brown", cooks=True, heats=True, attended=True),
        StageKind("come_up", "come up", cooks=True, heats=True, attended=False),
        StageKind("hold", "hold", cooks=True, heats=False, attended=False),
        StageKind("bake", "bake", cooks=True, heats=True, attended=False),
        StageKind("reduce", "reduce", cooks=True, heats=True, attended=True),
        StageKind("keep_warm", "keep warm", cooks=False, heats=False, attended=False),
        StageKind("release", "release", cooks=False, heats=False, attended=False),
        StageKind("rest", "rest", cooks=False, heats=False, attended=False),
    )
}

STAGE_CHOICES: list[tuple[str, str]] = [(kind.key, kind.label) for kind in STAGE_KINDS.values()]
