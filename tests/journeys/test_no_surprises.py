"""Every page at 320 px, in light and in dark: nothing sticks out, everything has a name, all text can be read."""

import pytest
from django.contrib.auth.models import User
from playwright.sync_api import Page

from deploy.demo.load import load_demo
from energy.models import Appliance, Meter, PowerSource, Run, Tariff
from kitchen.models import Food, Line, Recipe
from tests.journeys.conftest import watched_page
from tests.journeys.small_kitchen import sign_in

NARROW = {"viewport": {"width": 320, "height": 640}}
POT = "red-lentil-and-squash-pot"
# What is wrong with a page whatever its colours.
FAULTS = """() => {
  const found = [], told = node => node.outerHTML.slice(0, 120).replace(/\\s+/g, " ");
  const shown = node => node.checkVisibility() && node.getClientRects().length > 0;
  const wide = document.documentElement.scrollWidth;
  if (wide > innerWidth) found.push(`scrolls sideways: ${wide} px`);
  if (document.querySelectorAll("h1").length !== 1) found.push(`${document.querySelectorAll("h1").length} h1`);
  if (!document.documentElement.lang) found.push("no lang");
  if (!document.title.trim()) found.push("no title");
  const ids = [...document.querySelectorAll("[id]")].map(node => node.id);
  for (const id of new Set(ids.filter((id, place) => ids.indexOf(id) !== place))) found.push(`id twice: ${id}`);
  for (const field of document.querySelectorAll("input:not([type=hidden]), select, textarea"))
    if (![...(field.labels ?? [])].some(label => label.textContent.trim()) && !field.ariaLabel)
      found.push(`no label: ${told(field)}`);
  for (const drawn of document.querySelectorAll("img, svg"))
    if (!drawn.closest("[aria-hidden=true]") && !(drawn.alt || drawn.ariaLabel)) found.push(`no name: ${told(drawn)}`);
  for (const link of document.querySelectorAll("a[href], button"))
    if (!(link.textContent.trim() || link.ariaLabel)) found.push(`no words: ${told(link)}`);
  for (const named of document.querySelectorAll("[aria-labelledby], [aria-describedby]"))
    for (const id of ["aria-labelledby", "aria-describedby"].flatMap(name => named.getAttribute(name)?.split(/\\s+/) ?? []))
      if (!document.getElementById(id)) found.push(`points at nothing: ${id}`);
  for (const target of document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary"))
    if (shown(target) && !target.closest("p, li, td, th, .visually-hidden, .skip, ul.figures")
        && target.getBoundingClientRect().height < 24)
      found.push(`too low to hit: ${told(target)}`);
  return found;
}"""
# Texts with less contrast than 4.5 to 1, or 3 to 1 where they are large.
FAINT = """() => {
  const pen = new OffscreenCanvas(1, 1).getContext("2d", { willReadFrequently: true });
  const paint = colour => {
    pen.clearRect(0, 0, 1, 1);
    pen.fillStyle = colour;
    pen.fillRect(0, 0, 1, 1);
    return pen.getImageData(0, 0, 1, 1).data;
  };
  const light = rgb => [...rgb].slice(0, 3).map(part => part / 255)
    .map(part => part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4)
    .reduce((sum, part, place) => sum + part * [0.2126, 0.7152, 0.0722][place], 0);
  const ground = node => {
    for (let at = node; at; at = at.parentElement) {
      const rgb = paint(getComputedStyle(at).backgroundColor);
      if (rgb[3] === 255) return rgb;
    }
    return paint("Canvas");
  };
  const found = new Set(), texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (texts.nextNode()) {
    const node = texts.currentNode.parentElement, words = texts.currentNode.data.trim();
    if (!words || !node.checkVisibility()) continue;
    if (node.closest("svg, :disabled, [aria-disabled=true], option, .visually-hidden")) continue;
    const look = getComputedStyle(node), size = parseFloat(look.fontSize);
    const [one, two] = [light(paint(look.color)), light(ground(node))].sort((a, b) => b - a);
    const needed = size >= 24 || (size >= 18.66 && look.fontWeight >= 700) ? 3 : 4.5;
    const contrast = (one + 0.05) / (two + 0.05);
    if (contrast < needed) found.add(`${contrast.toFixed(2)} to 1: ${words.slice(0, 40)}`);
  }
  return [...found];
}"""


@pytest.fixture
def narrow_window(browser, live_server, transactional_db):
    yield from watched_page(browser, live_server.url, **NARROW)


def look_at(page: Page, address: str, status: int = 200) -> list[str]:
    """Open a page and return what is wrong with it, in both colour schemes."""
    page.emulate_media(color_scheme="light")
    answer = page.goto(address)
    found = page.evaluate(FAULTS)
    if answer.status != status:
        found.append(f"status {answer.status}")
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        found += [f"{scheme}: {faint}" for faint in page.evaluate(FAINT)]
    return [f"{address} {fault}" for fault in found]


BAD_PAGE = """<body style="background: #fff"><svg></svg><input><button></button><p id="twice" style="width: 900px">One</p>
<p id="twice" aria-describedby="nowhere" style="color: #aaa">Two</p><a href="#">x</a></body>"""


def test_the_faults_are_found(browser):
    """The two looks above see what they look for."""
    page = browser.new_page(**NARROW)
    page.set_content(BAD_PAGE)
    found = page.evaluate(FAULTS)
    faint = page.evaluate(FAINT)
    page.close()
    kinds = ["scrolls", "0 h1", "no lang", "no title", "id twice", "no label", "no name", "no words", "points at", "too low"]
    assert [kind for kind in kinds if not any(fault.startswith(kind) for fault in found)] == []
    assert faint == ["2.32 to 1: Two"]


PUBLIC = {
    "/": 200,
    "/?q=lentil&sort=energy_per_serving_wh&wh=300": 200,
    "/?q=nothing+like+this": 200,
    "/?wh=many": 400,
    f"/r/{POT}/": 200,
    f"/r/{POT}/for-3/": 200,
    f"/r/{POT}/?for=six": 400,
    f"/r/{POT}/?measures=us&battery_wh=500&inverter_w=300": 200,
    f"/r/{POT}/runs/": 200,
    f"/r/{POT}/editions/": 200,
    f"/r/{POT}/editions/1/": 200,
    "/r/cocoa-for-the-cold-hours/": 200,
    "/r/corn-cakes/": 200,
    "/method/": 200,
    "/nowhere/": 404,
    "/bench/sign-in/": 200,
    "/start/not-a-token/": 410,
}
LISTS = ("foods", "foods/new", "runs", "prices", "prices/rules", "shops", "yields", "cooks", "settings", "password")
GEAR = (("appliances", Appliance), ("sources", PowerSource), ("meters", Meter), ("tariffs", Tariff))


def bench_addresses() -> list[str]:
    """Return the bench's pages: lists, one recipe with all its doors, one run with its own, one of each gear."""
    run = Run.objects.filter(revision__recipe__slug=POT).first()
    line = Line.objects.filter(part__revision__recipe__slug=POT).last()
    doors = ("", "edit/", "draft/", "publish/", "photos/", "address/", "sides/", "delete/", "runs/", "runs/new/", "prices/")
    run_doors = ("", "edit/", "stages/", "log/", "remove/", f"readings/{run.readings.first().pk}/")
    return [
        "/bench/",
        "/bench/recipes/new/",
        *(f"/bench/recipes/{POT}/{door}" for door in (*doors, f"edit/lines/{line.pk}/")),
        *(f"/bench/{name}/" for name in LISTS),
        f"/bench/foods/{Food.objects.first().pk}/",
        *(f"/bench/runs/{run.pk}/{door}" for door in run_doors),
        f"/bench/runs/{Run.objects.exclude(flags=[]).first().pk}/",
        *(f"/bench/{sort}/{door}" for sort, model in GEAR for door in ("", "new/", f"{model.objects.first().pk}/remove/")),
    ]


def test_no_page_holds_a_surprise(narrow_window, live_server):
    load_demo()
    owner = User.objects.create_superuser("owner", password="pot-lid-spoon")
    found = [fault for address, status in PUBLIC.items() for fault in look_at(narrow_window, address, status)]
    sign_in(narrow_window, owner, live_server.url)
    found += [fault for address in bench_addresses() for fault in look_at(narrow_window, address)]
    assert found == []
    assert Recipe.objects.filter(withdrawn_at=None).count() >= 8
