"""Checks a page of `layshaft report` in a browser, as a person would use it.

    python check_page.py PAGE.html AXE.js CHROME CHROMEDRIVER

Prints a line a check, `ok NAME` or `FAIL NAME: why`, and exits 1 when any
failed. What the page must show is worked out from the record inside the page
itself, unpacked here by other means than the page's own.
"""

import base64
import json
import re
import statistics
import sys
import time
from decimal import Decimal

sys.dont_write_bytecode = True  # nothing is left beside the tests

from selenium.webdriver.common.keys import Keys  # noqa: E402

from page_in_browser import Page, fixed, need, teeth  # noqa: E402

WIDTHS = [320, 360, 768, 1440]
A4_INSIDE_PX = 688  # 210 mm less two margins of 14 mm, at 96 px an inch
A4_HIGH_PX = 1016  # 297 mm less the same
ANSWER_MS = 100


def settled(page, selector, wanted):
    """Whether `wanted` comes to stand in `selector` within two seconds."""
    end = time.monotonic() + 2
    while time.monotonic() < end:
        if wanted in (page.text(selector) or ""):
            return True
        time.sleep(0.03)
    return False


def check_opens(page):
    page.open()
    need(page.shown() == page.record["shown"], f"set {page.shown()} is shown first")
    count = fixed(int(page.record["solve"]["feasible_sets"]), 0)
    need(page.text("#answer").startswith(count + " "), "the answer does not start with the count of sets")
    need(page.js("return document.querySelectorAll('h1').length") == 1, "not one heading of the first order")


def check_numbers(page):
    """Every figure of the table of sets equals the record's."""
    cells = page.js(
        "return [...document.querySelectorAll('#sets tbody tr')].map((row) => [row.dataset.mark,"
        " Object.fromEntries([...row.querySelectorAll('[data-k]')].map((cell) =>"
        " [cell.dataset.k, cell.querySelector('.v').textContent])),"
        " [...row.querySelectorAll('.chip')].map((chip) => chip.textContent)])"
    )
    need(sorted(mark for mark, _, _ in cells) == sorted(page.marks), "the table has other sets than the record")
    for mark, told, chips in cells:
        one = page.set(mark)
        want = {
            "error": fixed(one["worst_error_percent"], 2),
            "metal": fixed(Decimal(one["blank_volume_mm3"]) / 1000, 1),
            "cutters": str(one["distinct_cutters"]),
        }
        if "least_safety" in one:
            want["least_safety"] = fixed(one["least_safety"], 2)
        pairs = {"head": one.get("head"), "reverse": one.get("reverse")}
        pairs.update({f"s{i}": speed for i, speed in enumerate(one["speeds"]) if not speed.get("direct")})
        want.update({key: teeth(pair) for key, pair in pairs.items() if pair})
        for key, value in want.items():
            got = told[key].split(" ×")[0]
            need(got == value, f"{mark}, {key}: {got!r} stands for {value!r}")
        need(chips == one["remark_words"], f"{mark} has the marks {chips}")


def check_sort(page):
    for key, of in [("error", "worst_error_percent"), ("metal", "blank_volume_mm3")]:
        for down in (False, True):
            page.click(f'#sets th[data-k="{key}"] button')
            values = [page.set(mark)[of] for mark in page.rows()]
            need(values == sorted(values, reverse=down), f"{key} is not in order")
            told = page.js("return document.querySelector(arguments[0]).getAttribute('aria-sort')", f'#sets th[data-k="{key}"]')
            need(told == ("descending" if down else "ascending"), f"{key} says {told}")
    page.click('#sets th[data-k="order"] button')
    need(page.rows() == page.marks, "the page's own order does not come back")


def check_filter(page):
    if len(page.marks) < 2:
        return
    fill = "const one = document.getElementById('sift'); one.value = arguments[0]; one.dispatchEvent(new Event('input'))"
    wanted = page.marks[-1]
    page.js(fill, wanted.lower())
    need(wanted in page.rows() and len(page.rows()) < len(page.marks), "a mark finds more than its set")
    page.js(fill, "")
    need(page.rows() == page.marks, "sets stay away when nothing is sought")
    most = page.js("const one = document.getElementById('most'); return one && one.options.length > 1 ? one.options[1].value : null")
    if most:
        pick = "const one = document.getElementById('most'); one.value = arguments[0]; one.dispatchEvent(new Event('change'))"
        page.js(pick, most)
        want = [mark for mark in page.marks if page.set(mark)["distinct_cutters"] <= int(most)]
        need(page.rows() == want, f"at most {most} cutters shows other sets")
        page.js(pick, "0")


def other(page):
    return next((mark for mark in page.marks if mark != page.shown()), page.shown())


def check_pick(page):
    first, wanted = page.shown(), other(page)
    for way, mark in [(f'#sets tr[data-mark="{wanted}"] a', wanted), (f'#sets tr[data-mark="{first}"] a', first)]:
        page.click(way)
        need(page.shown() == mark, "the title block keeps the set")
        need(page.js("return location.hash") == f"#set={mark}", "the address does not keep the set")
        need(mark in page.text("#answer"), "the answer keeps the set")
        current = page.js("return [...document.querySelectorAll('#sets tr[aria-current]')].map((row) => row.dataset.mark)")
        need(current == [mark], f"the table marks {current}")
        words = page.set(mark)["remark_words"]
        need(all(word in page.text("#block") for word in words), "the title block leaves out a mark")
    if len(page.marks) > 1:
        page.js("document.querySelector('.pt.on').focus()")
        page.driver.switch_to.active_element.send_keys(Keys.ARROW_RIGHT, Keys.ARROW_UP, Keys.ARROW_LEFT, Keys.ENTER)
        on = page.js("return document.querySelectorAll('.pt.on').length")
        need(on == 1, f"{on} points are ringed after the keyboard")
    page.open(f"#set={wanted}")
    need(page.shown() == wanted, "the address does not bring its set")
    page.open()


def check_sections(page):
    """Every part of the page follows the set."""
    first = page.shown()
    for mark in dict.fromkeys([other(page), page.marks[-1], first]):
        page.click(f'#sets tr[data-mark="{mark}"] a')
        of = page.record["sets"][mark]
        want = []
        layout = of["layout"]
        if layout:
            want += [("#bore-body", fixed(bore["y_mm"], 3)) for bore in layout["boring"]["output_face"]]
            box = layout["layout"]
            want += [("#assemble-body", fixed(box["length_mm"], 2))] if "length_mm" in box else []
            want += [("#assemble-body", words) for words in box.get("impossible", [])]
            want += [("#assemble-body", step["words"]) for step in box.get("assembly", {}).get("steps", [])]
            weakest = of["strength"]["weakest"]
            want += [("#strength-body", f"safety {fixed(weakest['safety'], 2)}")] if weakest else [("#strength-body", "Nothing here is rated")]
        if "money" in of["stock"]:
            want += [("#buy-body", fixed(of["stock"]["money"]["together"], 2))]
            want += [("#buy-body", part["names"][0]) for part in of["stock"]["parts"]]
        for sheet in of["sheets"].get("pages", []):
            size = sheet["inspection"]["over_pins"]["size"] if sheet["inspection"].get("over_pins") else None
            want += [("#cut-body", fixed(size[key], 3)) for key in ("smallest_mm", "largest_mm")] if size else []
        if of["idler"]:
            want += [("#idler-body", fixed(place["x_mm"], 3)) for place in of["idler"]["places"]]
        for part in of["trial"]:
            want += [("#trial-body", part["heading"])]
            for block in part["blocks"]:
                want += [("#trial-body", block[kind]) for kind in ("words", "warning") if kind in block]
                want += [("#trial-body", one) for kind in ("points", "steps", "readings") for one in block.get(kind, [])]
        want += [("#trust-body", caution) for caution in page.record["cautions"]]
        for selector, words in want:
            need(settled(page, selector, words), f"{mark}: {selector} leaves out {words!r}")


def check_stopped(page):
    """A search that was stopped says so, and what is proved of it."""
    solve = page.record["solve"]
    told = page.text("#stopped")
    if solve["status"] != "stopped":
        need(told is None, "a search that ended is told as stopped")
        return
    need(told and "not proved best" in told and "stopped early" in page.text("#answer"), f"the stop is told as {told!r}")
    bounds = solve["bounds"]
    for words in (fixed(bounds["worst_error_percent"], 2), fixed(Decimal(bounds["blank_volume_mm3"]) / 1000, 1), str(bounds["distinct_cutters"])):
        need(words in told, f"the bound {words} is not told")


def check_weak(page):
    """A set that does not bear its duty is not shown without that word."""
    for mark in page.marks[:8]:
        page.open(f"#set={mark}")
        strength = page.record["sets"][mark]["strength"]
        weak = strength["rated"] and (strength["teeth_hold"] is False or strength["parts_hold"] is False)
        need((page.text("#weak") is not None) == bool(weak), f"{mark}: its strength is not told with the answer")
    page.open()


def check_compare(page):
    if len(page.marks) < 2:
        return
    for mark in page.marks[:2]:
        page.click(f'#sets tr[data-mark="{mark}"] input')
    told = page.text("#compare") or ""
    need(all(mark in told for mark in page.marks[:2]), "the comparison leaves out a set")
    for mark in page.marks[:2]:
        need(fixed(Decimal(page.set(mark)["blank_volume_mm3"]) / 1000, 1) in told, f"the metal of {mark} is not compared")
        page.click(f'#sets tr[data-mark="{mark}"] input')


def check_speed(page):
    states = page.js("return [...document.querySelectorAll('input[name=gear]')].map((one) => one.value)")
    say = page.record["sets"][page.shown()]["say"]
    reverse = page.set(page.shown()).get("reverse") or {}
    need(len(states) == len(page.set(page.shown())["speeds"]) + 1 + bool(reverse), f"the list has {states}")
    for state in states:
        page.click(f'input[name=gear][value="{state}"]')
        want = say.get(state, say.get(reverse.get("name"), ""))
        need(page.text("#say") == want, f"in {state} the page says {page.text('#say')!r}")
    page.js("document.querySelector('input[name=gear]').focus()")
    page.driver.switch_to.active_element.send_keys(Keys.ARROW_DOWN)
    at = page.js("return document.querySelector('input[name=gear]:checked').value")
    need(at == states[1], f"the arrow key comes to {at}")


def angles(page):
    return page.js("return [...document.querySelectorAll('.draw .turns')].map((one) => one.getAttribute('transform')).join('|')")


def check_turning(page):
    if not page.js("return Boolean(document.querySelector('.draw'))"):
        return
    page.click("input[name=gear]")
    still = angles(page)
    time.sleep(0.3)
    need(angles(page) == still, "the gears turn unasked")
    page.click("#turn")
    time.sleep(0.4)
    need(angles(page) != still, "the gears do not turn")
    page.click("#turn")


def check_still(page):
    """Who asked for less motion gets sleeves that do not slide and gears that turn slowly."""
    if not page.js("return Boolean(document.querySelector('.draw'))"):
        return
    slide = "const one = document.querySelector('.k-sleeve'); return one ? getComputedStyle(one).transitionDuration : null"
    turned = (
        "const done = arguments[0]; const button = document.getElementById('turn');"
        "const at = () => [...document.querySelectorAll('.draw .turns[transform]')].map((one) => parseFloat(one.getAttribute('transform').slice(7)));"
        "const apart = (a, b) => Math.min(Math.abs(a - b), 360 - Math.abs(a - b));"
        "button.click(); setTimeout(() => { const from = at(); setTimeout(() => { const now = at(); button.click();"
        "done(Math.max(...now.map((one, i) => apart(one, from[i])))); }, 500); }, 100)"
    )
    page.js("[...document.querySelectorAll('input[name=gear]')].pop().click()")
    usual = page.js(slide)
    page.media(features=[("prefers-reduced-motion", "reduce")])
    try:
        still = page.js(slide)
        slow = page.driver.execute_async_script(turned)
    finally:
        page.media()
    quick = page.driver.execute_async_script(turned)
    need(usual in (None, "0.25s") and still in (None, "0s"), f"a sleeve slides in {usual}, and in {still} with less motion")
    need(0 < slow < 0.5 * quick, f"the gears turn {slow:.1f} degrees with less motion, {quick:.1f} without")
    return f"{slow:.0f} and {quick:.0f} degrees in half a second"


def check_side(page):
    if not page.js("return Boolean(document.getElementById('side'))"):
        return
    of = page.record["sets"][page.shown()]
    reverse = "input[name=gear][value=reverse]"
    page.click(reverse)
    place = (
        "const one = [...document.querySelectorAll('.end .of-idler')].find((each) => each.getBoundingClientRect().width);"
        "return one ? one.getBoundingClientRect().x : null"
    )
    before, stood = page.text("#side"), page.js(place)
    page.click("#side")
    now = "left" if "left" in before else "right"
    clear = any(place["own_idler"] and place["side"] == now for place in (of["idler"] or {"places": []})["places"])
    told = page.text("#side-why")
    if clear:
        need(page.text("#side") != before, "the button keeps its side")
        need(stood is None or page.js(place) != stood, "the idler is not drawn on the other side")
        page.click("#side")
    else:
        need(told.startswith(f"Not on the {now}:"), f"a side that is not clear is answered by {told!r}")


def check_theme(page):
    colour = "return getComputedStyle(document.body).backgroundColor"
    before = page.js(colour)
    page.click("#theme")
    need(page.js(colour) != before, "the theme does not change")
    page.click("#theme")
    need(page.js(colour) == before, "the theme does not change back")


def check_widths(page):
    for px in WIDTHS:
        page.width(px)
        wide = page.js("return document.documentElement.scrollWidth")
        need(wide <= px, f"at {px} px the page is {wide} px wide")
    page.width(1440)


def check_print(page):
    page.driver.execute_cdp_cmd("Page.enable", {})
    paper = {"preferCSSPageSize": True, "printBackground": True}
    pdf = base64.b64decode(page.driver.execute_cdp_cmd("Page.printToPDF", paper)["data"])
    pages = len(re.findall(rb"/Type\s*/Page[^s]", pdf))
    need(3 <= pages <= 400, f"{pages} pages come out")
    page.media("print")
    page.width(A4_INSIDE_PX)
    clipped = page.js(
        "const edge = document.documentElement.clientWidth;"
        "return [...document.querySelectorAll('table')].filter((one) => one.offsetParent && (one.scrollWidth > one.clientWidth + 1"
        " || one.getBoundingClientRect().right > edge + 1 || one.scrollWidth > one.parentNode.clientWidth + 1))"
        ".map((one) => one.caption.textContent)"
    )
    folded = page.js("return [...document.querySelectorAll('section:not([hidden]) .folded')].filter((one) => !one.offsetHeight).length")
    forms = page.js(
        "return [...document.querySelectorAll('.sheet')].filter((one) => one.offsetHeight).map((one) => [one.offsetHeight,"
        " one.querySelectorAll('.measure tbody tr').length, one.querySelectorAll('.measure .box').length])"
    )
    page.media()
    page.width(1440)
    sheets = page.record["sets"][page.shown()]["sheets"].get("pages", [])
    need(len(forms) == len(sheets), f"{len(forms)} forms for {len(sheets)} gear pages")
    for (high, rows, boxes), sheet in zip(forms, sheets):
        need(high <= A4_HIGH_PX, f"the form of {sheet['gears']} is {high} px high, a sheet {A4_HIGH_PX}")
        need(rows > 1 and boxes == rows * len(sheet["gears"]), f"the form of {sheet['gears']} has {boxes} boxes for {rows} sizes")
    need(not clipped, f"clipped on paper: {clipped}")
    need(folded == 0, f"{folded} folded parts stay shut on paper")
    return f"{pages} pages"


def check_axe(page):
    run = (
        "const done = arguments[arguments.length - 1];"
        "axe.run(document, { resultTypes: ['violations'] }).then((found) => done(found.violations"
        ".map((one) => [one.impact, one.id, one.nodes.length, one.nodes[0].target.join(' '), one.nodes[0].failureSummary])))"
    )
    page.js(page.axe)
    page.driver.set_script_timeout(120)
    for theme in ("light", "dark"):
        page.js("document.documentElement.dataset.theme = arguments[0]", theme)
        for px in (1440, 360):
            page.width(px)
            found = page.driver.execute_async_script(run)
            grave = [one for one in found if one[0] in ("serious", "critical")]
            need(not grave, f"{theme}, {px} px: {grave}")
    page.js("document.documentElement.dataset.theme = 'light'")
    page.width(1440)


def check_quick(page):
    """A click is answered within 100 ms of scripting and layout."""
    if len(page.marks) < 2:
        return None
    spent = []
    for i in range(10):
        mark = page.marks[(i * 7 + 1) % len(page.marks)]
        spent.append(page.js(
            "const link = document.querySelector(arguments[0]); const from = performance.now(); link.click();"
            "document.body.offsetHeight; return performance.now() - from", f'#sets tr[data-mark="{mark}"] a'))
    middle = statistics.median(spent)
    need(middle <= ANSWER_MS, f"{middle:.0f} ms in the middle of ten")
    return f"{middle:.0f} ms, {len(page.marks)} sets"


def check_saved(page):
    """What is saved is what is inside."""
    caught = (
        "const done = arguments[arguments.length - 1]; const make = URL.createObjectURL;"
        "const click = HTMLAnchorElement.prototype.click; HTMLAnchorElement.prototype.click = () => {};"
        "URL.createObjectURL = (blob) => { blob.text().then(done); return make.call(URL, blob); };"
        "document.getElementById(arguments[0]).click(); URL.createObjectURL = make;"
        "HTMLAnchorElement.prototype.click = click;"
    )
    saved = json.loads(page.driver.execute_async_script(caught, "save-json"))
    need(saved == page.record, "the JSON saved is another")
    problem = page.record["problem"]["text"]
    need(page.driver.execute_async_script(caught, "save-problem") == problem, "the problem file saved is another")


def check_offline(page):
    asked = page.js("return performance.getEntriesByType('resource').map((one) => one.name).filter((name) => !name.startsWith('blob:'))")
    need(not asked, f"the page fetches {asked}")


def check_one_sheet(page):
    """One gear's page goes to the printer alone."""
    page.js("window.print = () => {}; document.querySelector('.sheet .ctl1').click()")
    page.media("print")
    seen = page.js(
        "return [[...document.querySelectorAll('.sheet')].filter((one) => one.offsetHeight).length,"
        " [...document.querySelectorAll('section')].filter((one) => one.offsetHeight).map((one) => one.id)]"
    )
    page.media()
    page.js("window.dispatchEvent(new Event('afterprint'))")
    need(seen == [1, ["cut"]], f"{seen[0]} gear pages and the parts {seen[1]} go to the printer")


def check_old_browser(page):
    """A browser that cannot unpack the record says so, and since when others can."""
    gone = {"source": "delete window.DecompressionStream"}
    named = page.driver.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", gone)["identifier"]
    page.driver.get("about:blank")
    page.driver.get(page.address)
    told = ""
    for _ in range(40):
        told = page.js("const one = document.getElementById('fault'); return one && !one.hidden ? one.textContent : ''")
        if told:
            break
        time.sleep(0.05)
    page.driver.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", {"identifier": named})
    page.open()
    need("2023" in told, f"an old browser is told {told!r}")


def check_console(page):
    told = [one["message"] for one in page.driver.get_log("browser")]
    need(not told, f"the console says {told}")


CHECKS = [
    check_opens, check_numbers, check_sort, check_filter, check_pick, check_stopped, check_weak, check_sections, check_compare, check_speed, check_turning,
    check_still, check_side, check_theme, check_widths, check_print, check_quick, check_saved, check_one_sheet, check_axe, check_offline, check_old_browser,
    check_console,
]


def main(arguments):
    if len(arguments) != 4:
        print(__doc__)
        return 2
    page = Page(*arguments)
    failed = False
    try:
        for check in CHECKS:
            name = check.__name__.removeprefix("check_")
            try:
                more = check(page)
                print(f"ok {name}" + (f" ({more})" if more else ""))
            except Exception as wrong:  # any trouble in the browser is a failed check too
                failed = True
                print(f"FAIL {name}: {' '.join(str(wrong).split())[:1500]}")
    finally:
        page.driver.quit()
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
