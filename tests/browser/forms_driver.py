"""Fills the forms from a document: finds the labelled field of each figure, and puts it in as a person does.

By touch it taps and types; by keyboard it does nothing but press keys: Tab to get somewhere, arrows, Enter.
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Any

from playwright.sync_api import expect

from tussock import text, units
from tussock.documents.base import Document, Figure, In, Model
from tussock.documents.parts import has_names, measures

from .driving import PATIENCE
from .screens import Screens

if TYPE_CHECKING:
    from playwright.sync_api import Locator

TAGS = ("kind", "by", "shape", "state", "source", "pitch_is")
#: fields of an element that are given when it is added
NAMING = {"Envelope": "category", "Direction": "designator", "Quirk": "text"}
#: fields that hold ids of elements
REFERENCES = {
    "id", "flap", "configuration", "based_on", "seats_out", "bays_out", "tanks_out", "stations", "takeoff",
    "climb", "landing", "configurations",
}  # fmt: skip
#: presses of a key before looking again where it led
AT_ONCE = 8
#: which way to a target by Tab, and by how many stops at least: radio buttons are not counted, a group is one
_WAY = """(target) => {
  const here = document.activeElement;
  if (here === target) return ["", 0];
  if (target.type === "radio" && here.name === target.name && here.type === "radio") return ["", 0];
  if (here === document.body) return ["Tab", 1];
  const pane = target.closest(".pane") ?? document;
  const stops = [...pane.querySelectorAll("a[href], button, input, select, textarea, summary")]
    .filter((one) => !one.disabled && one.tabIndex >= 0 && one.type !== "radio" && one.checkVisibility());
  const follows = (one, other) => one.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_FOLLOWING;
  const ahead = follows(here, target);
  const [first, last] = ahead ? [here, target] : [target, here];
  const between = (one) => one !== first && one !== last && follows(first, one) && follows(one, last);
  return [ahead ? "Tab" : "Shift+Tab", stops.filter(between).length];
}"""
#: more steps than this to get somewhere by keys are a trap
FARTHEST = 900


def said(text_id: str, **values: Any) -> str:
    return text.say({"text": text_id, "values": values})


def label_of(owner: type, field: str) -> str:
    own = f"form.{owner.__name__}.{field}"
    return said(own if own in text.catalogue() else f"form.any.{field}")


def typed_for(value: float, si: str) -> str:
    """The shortest text that says exactly this value, with a unit that the core knows."""
    dimension = units.unit(si).dimension
    symbols = [u.symbol for u in units.UNITS.values() if u.dimension == dimension]
    if si == "deg":
        return repr(value)
    found = []
    for symbol in symbols:
        there = units.from_si(value, symbol)
        for digits in range(1, 18):
            one = f"{there:.{digits}g} {symbol}"
            if "e" not in one.split()[0] and units.parse(one, si) == value:
                found.append(one)
                break
    return min(found, key=len)


class Filler:
    """Puts documents into the forms of one page. `ids` maps new ids to those of the documents put in."""

    def __init__(self, screens: Screens, *, touch: bool) -> None:
        self.screens, self.page, self.touch = screens, screens.page, touch
        self.ids: dict[str, str] = {}
        self.document = ""
        self.source: Document | None = None
        self.steps = 0

    # --- hands ---------------------------------------------------------------------------------------

    def at(self, pointer: str) -> Locator:
        return self.page.locator(f'[data-at="{pointer}"]')

    def get_to(self, target: Locator) -> None:
        """Focus by Tab alone, forward or back."""
        for _ in range(FARTHEST):
            way, far = target.evaluate(_WAY)
            if not way:
                return
            # so far at least; what can't be stopped at is not counted
            for _ in range(max(1, min(far, AT_ONCE))):
                self.steps += 1
                self.page.keyboard.press(way)
        raise AssertionError(f"not reached by keys: {target}")

    def press(self, target: Locator) -> None:
        """A button or link."""
        if self.touch:
            target.tap()
        else:
            self.get_to(target)
            self.page.keyboard.press("Enter")

    def type(self, target: Locator, typed: str, label: str | None = None) -> None:
        if label is not None:
            name = target.evaluate("(one) => one.labels[0]?.textContent.trim()")
            assert (name or "").startswith(label), f"{name!r} is not labelled {label!r}"
        if self.touch:
            target.tap()
            expect(target).to_be_focused(
                timeout=PATIENCE
            )  # the focus follows the finger when the page gets to it
        else:
            self.get_to(target)
        self.page.keyboard.press("Control+A")
        self.page.keyboard.insert_text(typed)
        multiline = target.evaluate("(one) => one.tagName === 'TEXTAREA'")
        self.page.keyboard.press("Tab" if multiline else "Enter")

    def choose(self, within: Locator, name: str, value: str) -> None:
        """One of a few, or one of a list, by its value."""
        within.locator(f'input[type=radio][name="{name}"], select[id="{name}"]').first.wait_for(
            state="attached"
        )
        radios = within.locator(f'input[type=radio][name="{name}"]')
        if radios.count():
            wanted = within.locator(f'input[type=radio][name="{name}"][value="{value}"]')
            if wanted.is_checked():
                return
            if self.touch:
                within.locator(f'label:has(input[name="{name}"][value="{value}"])').tap()
            else:
                self.get_to(wanted)
                for _ in range(radios.count() + 1):
                    if wanted.is_checked():
                        break
                    here = wanted.evaluate("(one) => document.activeElement === one")
                    self.page.keyboard.press("Space" if here else "ArrowRight")
            assert wanted.is_checked(), (name, value)
            return
        chosen = within.locator(f'select[id="{name}"]')
        if self.touch:
            chosen.tap()  # the list itself is drawn by the device
            chosen.select_option(value)
            return
        self.get_to(chosen)
        if chosen.input_value() == value:
            return
        self.page.keyboard.press("Home")
        for _ in range(chosen.locator("option").count()):
            if chosen.input_value() == value:
                break
            self.page.keyboard.press("ArrowDown")
        assert chosen.input_value() == value

    # --- fields --------------------------------------------------------------------------------------

    def id_of(self, pointer: str) -> str:
        return "f" + pointer.replace("/", ".")

    def new_id(self, old: str) -> str:
        return next((new for new, known in self.ids.items() if known == old), old)

    def put(self, owner: type[Model], field: str, value: Any, pointer: str) -> None:
        here = self.at(pointer)
        label = label_of(owner, field)
        if isinstance(value, Figure):
            self.figure(owner, field, value, pointer, label)
        elif isinstance(value, Model):
            self.whole(value, pointer, label)
        elif isinstance(value, list):
            self.list(owner, field, value, pointer)
        elif isinstance(value, bool):
            self.choose(here, self.id_of(pointer), "yes" if value else "no")
        elif isinstance(value, (int, float)):
            measured = measures(owner, field)
            whole = isinstance(value, int)
            si = "m" if field == "across" else measured.unit if measured else "1"
            typed = str(value) if whole else typed_for(value, si)
            self.type(here.locator("[data-main]").first, typed, label)
        elif isinstance(value, datetime):
            self.moment(here.locator("[data-main]"), value)
        else:
            self.words(here, field, str(value), pointer, label)

    def words(self, here: Locator, field: str, value: str, pointer: str, label: str) -> None:
        name = self.id_of(pointer)
        control = here.locator(f'[id="{name}"]')
        if control.count() == 0 or control.evaluate("(one) => one.tagName") == "SELECT":
            self.choose(here, name, self.new_id(value) if field in REFERENCES else value)
        elif control.get_attribute("type") == "date":
            self.date(control, value)
        else:
            self.type(control, value, label)

    def date(self, control: Locator, value: str) -> None:
        if self.touch:
            control.fill(value)
            return
        year, month, day = value.split("-")
        self.get_to(control)
        self.page.keyboard.type(month + day + year)

    def moment(self, control: Locator, value: datetime) -> None:
        if self.touch:
            control.fill(value.strftime("%Y-%m-%dT%H:%M"))
            return
        self.get_to(control)
        self.page.keyboard.type(value.strftime("%m%d%Y"))
        self.page.keyboard.press("ArrowRight")
        self.page.keyboard.type(value.strftime("%I%M%p"))

    def figure(self, owner: type[Model], field: str, value: Figure, pointer: str, label: str) -> None:
        measured = measures(owner, field)
        assert isinstance(measured, In)
        typed = value.typed or typed_for(value.value, measured.unit)
        if not typed[-1].isalpha() and not typed.endswith("%") and measured.unit == "1":
            typed += " 1"
        here = self.at(pointer)
        self.type(here.locator("[data-main]").first, typed, label)
        self.choose(here, f"{self.id_of(pointer)}-origin", value.origin)
        for name in ("sd", "note"):
            given = getattr(value, name)
            if given is None:
                continue
            more = here.locator("details.f-more")
            if not more.evaluate("(one) => one.open"):
                self.press(more.locator("summary"))
            inner = self.at(f"{pointer}/{name}").locator("[data-main]")
            self.type(inner, given if name == "note" else typed_for(given, measured.unit))

    def whole(self, value: Model, pointer: str, label: str) -> None:
        here = self.at(pointer)
        give = here.get_by_role("button", name=said("form.give", what=label), exact=True)
        if "f-absent" in (here.get_attribute("class") or ""):
            self.press(give)
        tag = next((tag for tag in TAGS if tag in type(value).model_fields), None)
        name = self.id_of(pointer)
        if tag is not None and here.locator(f'input[name="{name}"], select[id="{name}"]').count():
            self.choose(here, name, getattr(value, tag))
        else:
            tag = None
        self.fields(value, pointer, skip=(tag,) if tag else ())

    def fields(self, value: Model, pointer: str, skip: tuple[str, ...] = ()) -> None:
        given = [name for name in type(value).model_fields if name in value.model_fields_set]
        order = said(f"form.order.{type(value).__name__}").split()
        given.sort(key=lambda name: order.index(name) if name in order else len(order))
        for name in given:
            inner = getattr(value, name)
            if name in ("id", "kind", "version", "stamps", "removed", "typed", *skip) or inner is None:
                continue
            self.put(type(value), name, inner, f"{pointer}/{name}")

    def list(self, owner: type[Model], field: str, value: list[Any], pointer: str) -> None:
        if value and isinstance(value[0], Model):
            if not has_names(owner, field):
                self.rows(value, pointer)
            else:
                for element in value:
                    self.element(field, element, pointer)
        elif value and isinstance(value[0], float):
            pass  # an axis comes with its table
        elif value and isinstance(value[0], list):
            self.table(owner, field, value, pointer)
        else:
            wanted = {self.new_id(one) if field in REFERENCES else one for one in value}
            for box in self.at(pointer).locator("[data-value]").all():
                tick = box.locator("input")
                if tick.is_checked() != (box.get_attribute("data-value") in wanted):
                    if self.touch:
                        box.locator("label").tap()
                    else:
                        self.get_to(tick)
                        self.page.keyboard.press("Space")

    def rows(self, value: list[Model], pointer: str) -> None:
        here = self.at(pointer)
        for index, row in enumerate(value):
            self.press(here.locator("button[data-adds-row]"))
            self.fields(row, f"{pointer}/{index}")

    def element(self, field: str, element: Model, pointer: str) -> None:
        """Add by its name, then fill what it has; on its own page where it has one."""
        naming = NAMING.get(type(element).__name__, "name")
        key = type(element).key
        add = self.at(f"{pointer}/+")
        if key != "id":
            self.choose(add, self.id_of(f"{pointer}/+"), self.new_id(getattr(element, key)))
            self.press(add.get_by_role("button"))
            self.fields(element, f"{pointer}/{self.new_id(getattr(element, key))}", skip=(key,))
            return
        if field == "configurations" and not self.ids_of(field):
            new = "as-it-is"  # the one that every new aeroplane has
        else:
            tag = getattr(element, "source", None)
            if tag is not None:
                self.choose(add, f"{self.id_of(f'{pointer}/+')}-tag", tag)
            before = self.children(pointer)
            self.type(add.locator("[data-main]"), getattr(element, naming))
            (new,) = self.children(pointer) - before
        self.ids[new] = getattr(element, key)
        place = f"{pointer}/{new}"
        link = self.page.locator(f'a[data-page="{place}"]')
        skip = (naming, "source") if new != "as-it-is" else ("source",)
        if not link.count():
            self.fields(element, place, skip=skip)
            return
        back = self.page.evaluate("() => location.hash")
        self.press(link)
        self.page.locator(f'.pane-open[data-place="edit/{self.document}{place}"]').wait_for()
        self.fields(element, place, skip=skip)
        self.press(self.page.locator(".form > .f > a.plain").last)
        self.page.locator(f'.pane-open[data-place="edit/{self.document}{pointer}"]').wait_for()
        assert back

    def ids_of(self, field: str) -> set[str]:
        assert self.source is not None
        return {one.id for one in getattr(self.source, field)} & set(self.ids.values())

    def children(self, pointer: str) -> set[str]:
        """Names of the elements of a list that can be seen."""
        names = self.page.evaluate(
            """(pointer) => [...document.querySelectorAll("[data-page], [data-at]")]
              .map((one) => one.dataset.page ?? one.dataset.at)
              .filter((place) => place.startsWith(`${pointer}/`))
              .map((place) => place.slice(pointer.length + 1).split("/")[0])""",
            pointer,
        )
        return set(names) - {"+"}

    def table(self, owner: type[Model], field: str, grid: list[Any], pointer: str) -> None:
        """As it would be copied from a spreadsheet, in units that say every figure exactly."""
        assert self.source is not None
        table = next(one for one in self.source.performance if getattr(one, field, None) is grid)  # type: ignore[attr-defined]
        here = self.at(pointer)
        rate = field == "rate"
        lines = []
        for mass, plane in zip(table.mass_axis, grid, strict=True):
            top = [typed_for(mass, "kg"), *(typed_for(one, "K") for one in table.temperature_axis)]
            lines.append("\t".join(top))
            for height, row in zip(table.altitude_axis, plane, strict=True):
                cells = ["" if one is None else typed_for(one, "m/s" if rate else "m") for one in row]
                lines.append("\t".join([typed_for(height, "m"), *cells]))
            lines.append("")
        box = here.locator(f'[data-paste="{pointer}"]')
        self.press(here.locator("details.f-aid > summary"))
        self.type(box.locator("textarea"), "\n".join(lines))
        self.press(box.get_by_role("button", name=said("form.paste.take")))
        box.get_by_role("status").wait_for()
        shown = box.get_by_role("status").text_content() or ""
        assert shown.startswith(said("form.paste.done", masses="", rows="", columns="")[:6]), shown

    # --- documents -----------------------------------------------------------------------------------

    def build(self, source: Document) -> str:
        """A new document of that kind, with every figure of `source`; returns its id."""
        kind = source.kind  # type: ignore[attr-defined]
        self.source, self.ids = source, {}
        self.page.evaluate("() => { location.hash = '#/edit'; }")
        line = self.at(f"hub-{kind}")
        line.wait_for()
        self.type(line.locator(f'[id="hub-{kind}-name"]'), source.name)
        self.page.locator(".f-contents").wait_for()
        place = self.page.locator(".pane-open").get_attribute("data-place") or ""
        self.document = place.removeprefix("edit/")
        sections = [one.get_attribute("data-section") for one in self.page.locator("[data-section]").all()]
        done: set[str] = {"name"}
        for number, section in enumerate(sections):
            self.press(self.page.locator(f'[data-section="{section}"]'))
            self.page.locator(".f-contents").wait_for(state="detached")
            if number == 0:
                self.choose(self.page.locator(".f-origins"), f"origin-{self.document}", "measured")
            for name in type(source).model_fields:
                if name in done or name not in source.model_fields_set or getattr(source, name) is None:
                    continue
                if self.at(f"/{name}").count():
                    self.put(type(source), name, getattr(source, name), f"/{name}")
                    done.add(name)
            self.press(self.page.get_by_role("link", name=said("form.contents"), exact=True))
            self.page.locator(".f-contents").wait_for()
        return self.document
