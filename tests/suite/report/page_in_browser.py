"""A page of `layshaft report` in its browser, and the record that is inside it."""

import base64
import json
import re
import time
import zlib
from decimal import ROUND_HALF_UP, Decimal
from pathlib import Path

from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service

THIN, MINUS, ARROW = "\u202f", "\u2212", "\u2192"

FLAGS = (
    "--headless --no-sandbox --disable-gpu --disable-quic --no-first-run "
    "--disable-background-networking --disable-component-update --disable-sync "
    "--disable-dev-shm-usage --hide-scrollbars --window-size=1440,1000"
).split()


class Wrong(Exception):
    """What a check found wrong."""


def need(truth, why):
    if not truth:
        raise Wrong(why)


def from_columns(columns, count):
    """A list of alike records from columns: {each}, {keys} or {items, lengths}."""
    if "each" in columns:
        return columns["each"]
    if "items" in columns:
        return from_places(columns["items"], columns["lengths"])
    lists = {key: from_columns(own, count) for key, own in columns["keys"].items()}
    return [{key: values[place] for key, values in lists.items()} for place in range(count)]


def from_places(items, lengths):
    """Lists from columns, one a place; a place is that of the lists that reach so far."""
    lists = [[] for _ in lengths]
    for place, own in enumerate(items):
        reach = [values for values, length in zip(lists, lengths) if length > place]
        for values, value in zip(reach, from_columns(own, len(reach)), strict=True):
            values.append(value)
    return lists


def record_of(page):
    """The JSON inside the page, its sets by mark."""
    text = Path(page).read_text(encoding="utf-8")
    packed = re.search(r'id="record"[^>]*>([^<]*)<', text).group(1)
    record = json.loads(zlib.decompress(base64.b64decode(packed), wbits=-15))
    marks = record["row_marks"]
    record["sets"] = dict(zip(marks, from_columns(record["sets"], len(marks))))
    return record


def fixed(value, digits):
    """The page's way with a figure: thin spaces, a true minus, halves away from zero."""
    step = Decimal(1).scaleb(-digits)
    size = abs(Decimal(value)).quantize(step, rounding=ROUND_HALF_UP)
    whole, dot, part = str(size).partition(".")
    spaced = f"{int(whole):,}".replace(",", THIN)
    return (MINUS if value < 0 and size != 0 else "") + spaced + dot + part


def teeth(pair):
    if pair.get("direct"):
        return "direct"
    keys = ["driver_teeth", "idler_teeth", "driven_teeth"]
    return ARROW.join(str(pair[key]) for key in keys if key in pair)


class Page:
    """The page in its browser."""

    def __init__(self, page, axe, chrome, chromedriver):
        options = Options()
        options.binary_location = chrome
        for flag in FLAGS:
            options.add_argument(flag)
        options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
        self.driver = webdriver.Chrome(options=options, service=Service(chromedriver))
        self.address = Path(page).resolve().as_uri()
        self.axe = Path(axe).read_text(encoding="utf-8")
        self.record = record_of(page)
        self.marks = self.record["row_marks"]

    def js(self, script, *values):
        return self.driver.execute_script(script, *values)

    def open(self, tail=""):
        self.driver.get("about:blank")
        self.driver.get(self.address + tail)
        end = time.monotonic() + 20
        while time.monotonic() < end:
            if self.js("return document.documentElement.dataset.ready === 'yes'"):
                return
            time.sleep(0.05)
        raise Wrong("the page was not drawn within 20 s")

    def width(self, px, high=900):
        size = {"width": px, "height": high, "deviceScaleFactor": 1, "mobile": False}
        self.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)

    def media(self, media="", features=()):
        named = [{"name": name, "value": value} for name, value in features]
        self.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": media, "features": named})

    def text(self, selector):
        return self.js("const one = document.querySelector(arguments[0]); return one && one.textContent", selector)

    def click(self, selector):
        found = self.js("const one = document.querySelector(arguments[0]); if (one) one.click(); return Boolean(one)", selector)
        need(found, f"there is no {selector}")

    def rows(self):
        return self.js(
            "return [...document.querySelectorAll('#sets tbody tr')].filter((row) => !row.hidden)"
            ".map((row) => row.dataset.mark)"
        )

    def set(self, mark):
        return self.record["sets"][mark]["set"]

    def shown(self):
        return self.text("#block .mk")
