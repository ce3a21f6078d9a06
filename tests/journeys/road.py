"""The main road, as a cook walks it in a browser: each function is one stretch, through the pages' own words."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from io import BytesIO

from django.utils import timezone
from playwright.sync_api import Locator, Page, expect
from pypdf import PdfReader

from tests.journeys.waiting import comes_to, follow

TITLE = "Squash and lentil pot"
PASSWORD = "ladle under the stars"
LINES = {
    # As typed: how the table below must show its amount, its unit and its ingredient.
    "250 g red lentils": ("250", "g", "red lentils"),
    "600 g butternut squash, diced": ("600", "g", "butternut squash"),
    "2 onions, chopped": ("2", "", "onions"),
    "3 cloves garlic, crushed": ("3", "cloves", "garlic"),
    "30 ml rapeseed oil": ("30", "mL", "rapeseed oil"),
    "1 1/2 tbsp tomato paste": ("1½", "tbsp", "tomato paste"),
    "2 tsp ground cumin": ("2", "tsp", "ground cumin"),
    "1 litre hot water": ("1", "L", "water"),
    "a bag of spinach": ("1", "bag", "spinach"),
    "salt, to taste": ("–", "", "salt"),
}
STEPS = [
    ("Brown the onions and the squash in the oil; garlic and cumin for the last minute.", "brown", "10"),
    ("Add lentils, tomato paste and hot water; close the lid and bring it to pressure.", "come_up", "2"),
    ("Hold it at pressure.", "hold", "9"),
    ("Switch off and let it rest, then stir in the spinach and salt.", "rest", "10"),
]
# What the counter showed, and what the battery did at both ends.
READINGS = [("0", "0"), ("5", "56"), ("10", "105"), ("12", "118"), ("21", "213"), ("26", "213"), ("31", "213")]
PRICES = {
    "red lentils": ("500 g", "2.00"),
    "butternut squash": ("1 kg", "2.50"),
    "onion": ("1 kg", "1.20"),
    "garlic": ("250 g", "1.50"),
    "rapeseed oil": ("1 L", "3.00"),
    "tomato puree": ("200 g", "0.80"),
    "cumin": ("50 g", "1.00"),
    "fresh spinach": ("250 g", "1.75"),
}


def open_first_link(page: Page, token: str) -> None:
    """Make the owner's account with the one-time link."""
    page.goto(f"/start/{token}/")
    page.get_by_label("Name", exact=True).fill("mira")
    page.get_by_label("Password", exact=False).first.fill(PASSWORD)
    page.get_by_label("Password once more").fill(PASSWORD)
    page.get_by_label("What this kitchen is called").fill("Fernhollow kitchen")
    page.get_by_label("Currency").fill("EUR")
    page.get_by_role("button", name="Start").click()
    follow(page.get_by_role("link", name="Not now"))
    expect(page.get_by_role("heading", name="An empty kitchen")).to_be_visible()


def write_recipe(page: Page) -> None:
    """Write the recipe: its lines pasted, one of them corrected, its steps pasted and given their stages."""
    follow(page.get_by_role("link", name="Write a recipe"))
    page.get_by_label("Title").fill(TITLE)
    page.get_by_label("In one line").fill("One pot between two clouds.")
    page.get_by_label("Servings").fill("4")
    page.get_by_label("Lines").fill("\n".join(LINES))
    page.get_by_role("button", name="Show how lines are read").click()
    expect(page.locator("#lines-read tbody tr")).to_have_count(len(LINES))
    for typed, read in LINES.items():
        cells = page.locator("#lines-read tr").filter(has_text=typed).locator("td")
        comes_to(lambda cells=cells: [cell.split("\n")[0] for cell in cells.all_inner_texts()[1:4]], list(read))


def correct_spinach(page: Page) -> None:
    """Say that a bag of spinach is 250 g, which no line can tell by itself."""
    page.get_by_role("button", name="Correct: a bag of spinach").click()
    page.get_by_label("Amount", exact=False).first.fill("250")
    page.get_by_label("Unit").select_option("g")
    page.get_by_role("button", name="Save this reading").click()
    row = page.locator("#lines-read tr").filter(has_text="a bag of spinach")
    expect(row.locator("td").nth(1)).to_have_text("250")
    expect(row).to_contain_text("corrected")


def write_steps(page: Page) -> None:
    """Paste the method, and say for each step which stage it belongs to and how long it takes."""
    page.get_by_label("Paste steps").fill("\n".join(f"{number}. {text}" for number, (text, _, _) in enumerate(STEPS, 1)))
    page.get_by_role("button", name="Add these steps").click()
    expect(page.locator(".editor__step")).to_have_count(len(STEPS))
    for step, (text, stage, minutes) in zip(page.locator(".editor__step").all(), STEPS, strict=True):
        expect(step.get_by_label("What to do")).to_have_value(text)
        step.get_by_label("Stage").select_option(stage)
        step.get_by_label("Minutes").fill(minutes)
    page.get_by_role("button", name="Save and leave").click()
    expect(page.get_by_role("heading", name=TITLE)).to_be_visible()


GEAR = {
    "Cooker": {"What it is": "pressure_cooker", "Rated power": "700", "Name": "Big pot", "Holds, to the brim": "6"},
    "Meter": {"Smallest step of its counter": "1", "Name": "Plug meter", "Accuracy": "1"},
    "Power source": {
        "What it is": "battery_station",
        "Battery holds": "768",
        "Inverter gives all the time": "800",
        "Name": "Van battery",
        "Inverter passes on": "73",
        "Inverter uses for itself": "0",
        "Charger passes on": "90",
        "Kept in reserve": "0",
    },
    "Price of electricity": {"Price of a kilowatt-hour": "0.20", "Name": "Club house"},
}


def bring_gear(page: Page) -> None:
    """Say what is cooked with, on one page: a pressure cooker, a meter, a battery and what a kilowatt-hour costs."""
    to_section(page, "Gear")
    for piece, typed in GEAR.items():
        part = page.get_by_role("region", name=piece)
        part.get_by_text("More about it").click()
        for label, value in typed.items():
            field = part.get_by_label(label, exact=True)
            if field.and_(page.locator("select")).count():
                field.select_option(value)
            else:
                field.fill(value)
    follow(page.get_by_role("button", name="Save gear"))
    expect(page.locator(".notices")).to_contain_text("Saved: Big pot, Plug meter, Van battery, Club house.")


def to_section(page: Page, section: str) -> None:
    """Go to a section of the bench."""
    follow(page.get_by_role("navigation", name="Bench").get_by_role("link", name=section))


def record_cook(page: Page) -> None:
    """Type what the counter showed: the proposed stages first, the readings between them after, then put them in order."""
    open_recipe(page)
    follow(page.get_by_role("link", name="Type in a cook", exact=True))
    switched_on(page)
    starts = {"0": "brown", "10": "come_up", "12": "hold", "21": "rest"}
    ordered = sorted(READINGS, key=lambda reading: (reading[0] not in starts, float(reading[0])))
    rows = page.locator("fieldset.reading")
    for row, (minute, energy_wh) in zip(rows.all(), ordered, strict=False):
        row.get_by_label("Time").fill(minute)
        row.get_by_label("Wh").fill(energy_wh)
        expect(row.get_by_label("Stage that begins here")).to_have_value(starts.get(minute, ""))
    rows.nth(0).get_by_label("%").fill("100")
    page.get_by_role("button", name="Save this cook").click()
    expect(page.get_by_text("Row 5 (minute 5) stands after row 4 (minute 21).")).to_be_visible()
    page.get_by_role("button", name="Put the rows in order").click()
    expect(rows.nth(6).get_by_label("Wh")).to_have_value("213")
    rows.nth(6).get_by_label("%").fill("62")
    page.get_by_role("button", name="Save this cook").click()
    expect(page.get_by_role("status")).to_contain_text("The cook is saved.")


def switched_on(page: Page) -> None:
    """Say when the cooker was switched on: yesterday evening."""
    page.get_by_label("Day").fill((timezone.localdate() - timedelta(days=1)).isoformat())
    page.get_by_label("Switched on at").fill("18:30")


def read_run(page: Page) -> None:
    """See what the readings say: 213 Wh in all, 105 Wh of them to brown, nothing while it rests, 73 % of the charge arrived."""
    expect(page.locator(".figures")).to_contain_text("213.0 ± 2.6 Wh")
    stages = page.get_by_role("region", name="Stages").locator("tr")
    for name, told in {
        "brown": ["10 min", "105.0 ± 1.5 Wh", "630 W"],
        "rest": ["10 min", "nothing"],
        "Whole cook": ["31 min", "213.0 ± 2.6 Wh"],
    }.items():
        cells = stages.filter(has=page.get_by_role("rowheader", name=name, exact=True)).locator("td")
        comes_to(lambda cells=cells, told=told: texts(cells)[: len(told)], told)
    expect(page.get_by_text("Of that 73 ± 5 % reached the socket")).to_be_visible()


def open_recipe(page: Page) -> None:
    """Go to the recipe's page on the bench."""
    to_section(page, "Recipes")
    follow(page.get_by_role("link", name=TITLE, exact=True))


def type_prices(page: Page) -> None:
    """Type the prices that are missing, all at once."""
    open_recipe(page)
    follow(page.get_by_role("link", name="Prices and costs of this recipe"))
    page.get_by_label("Shop").fill("Village shop")
    for food, (pack, price) in PRICES.items():
        page.get_by_label(f"Pack of {food}").fill(pack)
        page.get_by_label(f"Price of {food}").fill(price)
    page.get_by_role("button", name="Save these prices").click()
    expect(page.get_by_role("status")).to_contain_text(f"{len(PRICES)} prices are saved.")


def publish(page: Page) -> None:
    """Publish the recipe."""
    open_recipe(page)
    follow(page.get_by_role("link", name="Check and publish"))
    page.get_by_label("What is new in this edition").fill("The first one, cooked once.")
    page.get_by_role("button", name="Publish").click()
    expect(page.get_by_text("Readers see edition 1")).to_be_visible()


def sign_out(page: Page) -> None:
    """Leave the bench, and see that it is closed."""
    to_section(page, "Kitchen")
    follow(page.get_by_role("button", name="Sign out"))
    page.goto("/bench/")
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()


def read_as_stranger(page: Page) -> None:
    """Find the recipe in the library, and see its figures and what it costs."""
    page.goto("/")
    expect(page.locator(".tile")).to_have_count(1)
    expect(page.locator(".tile__figures")).to_contain_text("53.2 Wh")
    follow(page.get_by_role("link", name=TITLE))
    expect(page.get_by_role("heading", level=1)).to_have_text(TITLE)
    expect(page.locator(".badge").first).to_have_text("measured once")
    figures = page.locator(".figures").first
    expect(figures).to_contain_text("53.2Wh")
    expect(figures).to_contain_text("213 ± 29 in all")
    expect(figures).to_contain_text("21 min cooking, 10 min at the pot")
    for plate in page.locator(".fold:not([open]) > summary").all()[::-1]:
        plate.click()
    energy = page.locator("#energy")
    expect(energy).to_contain_text("213 ± 29 Wh at the socket")
    expect(energy).to_contain_text("33 to 43 % of 768 Wh (Van battery)")
    expect(energy).to_contain_text("700 W is 88 % of the 800 W that Van battery gives")
    expect(energy).to_contain_text("Electricity €0.06")
    _check_receipt(page, servings=4)


def _check_receipt(page: Page, *, servings: int) -> None:
    """See that the receipt adds up, that half a pack of lentils costs half its price, and what a serving costs."""
    receipt = page.locator("#cost > .fold > .receipt > li")
    costs = dict(zip(texts(receipt.locator("> span:first-child")), texts(receipt.locator("> b")), strict=True))
    expect(page.locator(".figures").first).to_contain_text(costs["Each serving"])
    euros = {words: _ends(cost) for words, cost in costs.items()}
    each, together = euros.pop("Each serving"), euros.popitem()[1]
    assert len(euros) == len(PRICES) + 1, "every priced line and the electricity"
    assert euros["red lentils"] == (Decimal("0.25") * servings,) * 2
    for end in (0, 1):
        assert abs(sum(cost[end] for cost in euros.values()) - together[end]) <= Decimal("0.01"), "each is rounded by itself"
        assert abs(each[end] - together[end] / servings) <= Decimal("0.01"), "a range is rounded outwards, to whole coins"


def _ends(cost: str) -> tuple[Decimal, Decimal]:
    """Return the least and the most that stands there: the electricity of a cook is known within its doubt."""
    ends = [Decimal(end.removeprefix("€")) for end in cost.split(" to ")]
    return ends[0], ends[-1]


def amounts(page: Page) -> list[str]:
    """Return the ingredients' amounts as they stand on the page."""
    return texts(page.locator("#ingredients .lines b"))


def begin(page: Page, *first: str) -> None:
    """See what the first amounts of the page are."""
    comes_to(lambda: amounts(page)[: len(first)], list(first))


def texts(found: Locator) -> list[str]:
    """Return the texts of all that was found, with plain spaces between their words."""
    return [" ".join(text.split()) for text in found.all_inner_texts()]


def step_up(page: Page) -> None:
    """Ask for one serving more with the stepper, and see the amounts for five."""
    page.get_by_role("link", name="One serving more").click()
    page.wait_for_url("**/for-5/")
    expect(page.locator("#servings")).to_have_value("5")
    expect(page.get_by_text("serves 5, written for 4")).to_be_visible()
    begin(page, "315 g", "750 g", "2½")
    _check_receipt(page, servings=5)


def type_nonsense(page: Page) -> None:
    """Ask for "six" servings: a sentence stands beside the field, the word is still there, the recipe below as written."""
    page.get_by_label("Servings").fill("six")
    page.locator("#servings").press("Enter")
    expect(page.get_by_role("alert")).to_contain_text("Type a whole number of servings from 1 to 500.")
    expect(page.get_by_label("Servings")).to_have_value("six")
    begin(page, "250 g", "600 g")


def take_card(page: Page) -> PdfReader:
    """Fetch the printed card that the page links to."""
    link = page.get_by_role("link", name="Print card, A6").get_attribute("href")
    answer = page.request.get(str(link))
    assert answer.status == 200
    assert answer.headers["content-type"] == "application/pdf"
    return PdfReader(BytesIO(answer.body()))
