"""What a card says: a page in the words and the lines that paper has room for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import ceil

from django.template.loader import get_template
from django.utils.dateformat import format as format_day
from django.utils.safestring import SafeString

from kitchen.domain.show import ShownLine
from kitchen.page import Page, PageFrame
from kitchen.publish.faces import CardSize, Face
from kitchen.publish.figure_row import Told
from kitchen.publish.qr import QrCode
from kitchen.publish.typefaces import BOLD, SANS, count_lines, width_pt
from kitchen.words import ENGLISH, sentence, words_of

GAP_EM = 0.7  # between an amount and its food
_MOST_AMOUNT_EM, _LEAST_AMOUNT_EM, _MOST_AMOUNT_SHARE = 8.5, 2.5, 0.36
_LONG_TITLE, _MOST_UNKNOWN = 44, 4


@dataclass(frozen=True)
class CardLine:
    """An ingredient as it stands on a card; ``whole`` is all batches' amount, ``rows`` how many rows
    the amounts take.
    """

    amount: str
    words: str
    small: str
    whole: str = ""
    rows: int = 1


@dataclass(frozen=True)
class Foot:
    """What stands at the foot of the last face."""

    qr: QrCode | None
    address: str
    said: tuple[str, ...]
    lines: tuple[str, ...]


@dataclass(frozen=True)
class CardWords:
    """What a page says on paper of a size, with the strip as it is drawn there."""

    page: Page
    frame: PageFrame
    size: CardSize
    foot: Foot

    @cached_property
    def strip(self) -> SafeString:
        """The cards' drawings."""
        drawn = [plate for plate in self.page.cards if plate.print_template_name]
        return SafeString(
            "".join(
                get_template(one.print_template_name).render({**one.context, "paper": self.size.strip}) for one in drawn
            ).strip()
        )

    @property
    def title(self) -> str:
        """The recipe's title."""
        return self.page.recipe.title

    @property
    def long_title(self) -> bool:
        """Whether the title is set smaller."""
        return len(self.title) > _LONG_TITLE

    @cached_property
    def servings(self) -> str:
        """For how many it is."""
        return sentence(ENGLISH, "card_for", servings=self.page.request.servings)

    @cached_property
    def circumstances(self) -> str:
        """In what it is cooked, for whose kit, and how sure the figures are."""
        page = self.page
        said = [page.size_words, *(plate.cooked_in for plate in page.cards), page.batch_words]
        kits = [plate.for_kit for plate in page.cards if plate.for_kit]
        where = "; ".join([", ".join(filter(None, said)), *kits] if any(said) else kits)
        badge = f"{page.badge[:1].upper()}{page.badge[1:]}." if page.badge else ""
        return f"{', ' if where else ''}{where}. {badge}".strip()

    @cached_property
    def told(self) -> tuple[Told, ...]:
        """The large figures with the words that paper has room for."""
        briefs = {one.key: (one.brief,) for one in self.page.headlines if one.brief} | {**self.page.briefs}
        return tuple(
            Told(
                one.value,
                one.unit,
                one.words,
                one.standing,
                one.tone,
                tuple(briefs.get(one.key, ())) or (one.brief,) * bool(one.brief),
            )
            for one in self.page.headlines
        )

    @cached_property
    def lines(self) -> tuple[tuple[str, tuple[CardLine, ...]], ...]:
        """The parts with their lines; of several batches each shows one batch's amount, and all of them beside."""
        batched = self.page.request.batches > 1
        return tuple((part.title, tuple(_card_line(line, batched=batched) for line in part.lines)) for part in self.page.parts)

    @cached_property
    def list_heads(self) -> tuple[str, ...]:
        """What stands above the amounts of several batches; empty for one."""
        if self.page.request.batches == 1:
            return ()
        about = any(line.per_batch.startswith("about ") for part in self.page.parts for line in part.lines)
        return (sentence(ENGLISH, "card_in_all"), sentence(ENGLISH, "card_about_each_batch" if about else "card_each_batch"))

    @cached_property
    def amount_em(self) -> float:
        """How wide the amounts are, with the space behind them. [em]"""
        return self._column_em([*self.list_heads[1:], *(line.amount for _, lines in self.lines for line in lines)], BOLD)

    @cached_property
    def whole_em(self) -> float:
        """How wide the amounts of all batches are; 0 for one. [em]"""
        return self._column_em([line.whole for _, lines in self.lines for line in lines], SANS) if self.list_heads else 0.0

    def _column_em(self, amounts: Sequence[str], face: str) -> float:
        most_em = min(_MOST_AMOUNT_EM, _MOST_AMOUNT_SHARE * self.size.width_pt / self.size.least_pt)
        em = max((width_pt(amount, face, 1) for amount in amounts), default=0.0) + GAP_EM + 0.1
        return ceil(2 * min(max(em, _LEAST_AMOUNT_EM), most_em)) / 2

    @property
    def list_class(self) -> str:
        """The names of the amounts' widths, in half ems."""
        return f"m{2 * self.amount_em:.0f} n{2 * self.whole_em:.0f}"

    def rows(self, line: CardLine) -> int:
        """Return how many rows a line's amounts take."""
        return max(
            count_lines([(line.amount, BOLD, 1.0)], self.amount_em - GAP_EM),
            count_lines([(line.whole, SANS, 1.0)], self.whole_em - GAP_EM) if line.whole else 1,
        )

    @property
    def across(self) -> int:
        """How many columns the list has: those of the size, or one where each line has two amounts."""
        return 1 if self.whole_em else self.size.columns

    def columns(self, lines: Sequence[CardLine]) -> list[Sequence[CardLine]]:
        """Return lines in so many columns."""
        each = ceil(len(lines) / self.across)
        return [lines[start : start + each] for start in range(0, len(lines), each)]

    @cached_property
    def allergens(self) -> tuple[tuple[str, bool], ...]:
        """What is known of allergens, as words with whether they are bold; empty where nothing was said."""
        told = self.page.allergens
        if told is None:
            return ()
        found: list[tuple[str, bool]] = []
        for entry in told.found:
            words = sentence(ENGLISH, "card_optional", allergen=entry.words) if entry.optional else entry.words
            found += [(", " if found else "Allergens: ", False), (words, True)]
        said = [*found, (".", False)] if found else [(sentence(ENGLISH, "card_no_allergens"), False)]
        return (*said, *((f" {words}", False) for words in self._more_of_allergens()))

    def _more_of_allergens(self) -> Iterator[str]:
        told = self.page.allergens
        if told is None:
            return
        if told.labels:
            yield sentence(ENGLISH, "card_some_brands", allergens=", ".join(entry.words for entry in told.labels))
        if len(told.unknown) > _MOST_UNKNOWN:
            yield sentence(ENGLISH, "card_unknown_of", lines=len(told.unknown))
        elif told.unknown:
            yield sentence(ENGLISH, "card_unknown", lines=", ".join(told.unknown))
        if told.without:
            yield sentence(ENGLISH, "card_cook_says", allergens=", ".join(told.without))
        if self.page.recipe.sides:
            yield sentence(ENGLISH, "card_sides_apart")
        yield sentence(ENGLISH, "card_pack_decides")

    @property
    def before_words(self) -> str:
        """What stands over the cautions."""
        return sentence(ENGLISH, "card_cautions")

    @cached_property
    def more_cautions(self) -> str:
        """How many cautions are left to the recipe's page; empty for none."""
        more = self.page.cautions_off_paper
        if not more:
            return ""
        return sentence(ENGLISH, "card_more_cautions" if self.foot.address else "card_more_cautions_draft", more=more)

    @property
    def each_batch(self) -> str:
        """That what stands below is of one batch; empty where there is one alone."""
        return sentence(ENGLISH, "card_each_batch_title") if self.page.request.batches > 1 else ""

    @cached_property
    def unnamed(self) -> str:
        """How much of the measured time is in none of the method's stages; empty for none, and where nobody knows."""
        page, marks = self.page, [stage.mark for stage in self.page.stages if stage.label]
        total = page.figures.get("total_min")
        if not page.clocked or total is None or page.standing != "measured" or page.request.batches > 1:
            return ""
        rest_min = float(total) - sum(mark.span_s for mark in marks if mark) / 60
        return sentence(ENGLISH, "card_unnamed", minutes=rest_min) if rest_min >= 1 and any(marks) else ""

    @property
    def method_title(self) -> str:
        """What the method is called to those who hear it."""
        return sentence(ENGLISH, "card_each_batch_method" if self.page.request.batches > 1 else "card_method")

    @property
    def qr_words(self) -> str:
        """Where the code leads, for those who hear it."""
        return sentence(ENGLISH, "card_qr", address=self.foot.qr.address) if self.foot.qr else ""

    @cached_property
    def title_for(self) -> str:
        """The title with the servings."""
        return sentence(ENGLISH, "card_title_for", title=self.title, servings=self.page.request.servings)


def side_words(face: Face) -> str:
    """Return which side of which card a face is."""
    card = sentence(ENGLISH, "card_of", number=face.card, cards=face.cards)
    return sentence(ENGLISH, "card_front" if face.front else "card_back", card=card)


def edition_words(page: Page, frame: PageFrame) -> str:
    """Return which edition a card was printed from, and in whose measures."""
    if frame.draft:
        said = [sentence(ENGLISH, "card_draft", revision=frame.revision)]
    else:
        day = format_day(frame.published_at, "j F Y") if frame.published_at else ""
        said = [sentence(ENGLISH, "card_edition", number=frame.edition_number, day=day)]
    if page.scaled:
        said.append(sentence(ENGLISH, "card_written_for", servings=page.request.base_servings))
    return ", ".join(said) + (f"; {page.sizes_words}" if page.sizes_words else "")


def _card_line(line: ShownLine, *, batched: bool) -> CardLine:
    small = ", ".join(filter(None, (line.note, *(words_of(said, ENGLISH) for said in line.said))))
    if batched and line.per_batch:
        return CardLine(line.per_batch.removeprefix("about "), line.words, small, line.amount)
    return CardLine(line.amount, line.words, small)
