#!/usr/bin/env python3
"""Opens a report page in headless Chromium and uses it as a person would: turns the bag, slides the
load, reads a stitch, prints. Usage: page_browser.py TOTEBENCH SCENE

Exit code 77 (skipped) with the reason when there is no Chromium.
"""
import base64
import json
import math
import os
import re
import subprocess
import sys
import tempfile
import time

sys.dont_write_bytecode = True  # the source tree stays as it is
from browser import Browser, find_browser  # noqa: E402

SKIPPED = 77
MOST_BYTES = 5e6

# From the front, at full load: of the points of the front panel below the straps, how many have on the screen the
# colour that the bar gives their value, but for a shade of 0.8 to 1? [as many, of so many]. Where a
# point is seen follows from the outline of all that is drawn.
COLOURED_LIKE_THE_BAR = """(() => {
  const m = JSON.parse(document.getElementById('models').textContent)[0];
  const data = (text) => Uint8Array.from(atob(text), (c) => c.charCodeAt(0)).buffer;
  const at = new Uint16Array(data(m.steps[m.steps.length - 1].positions));
  const value = new Uint16Array(data(m.fields[0].values)), corner = new Uint32Array(data(m.triangles));
  const used = new Set(m.parts.filter((p) => p.coloured).flatMap((p) => [...corner.slice(p.first, p.first + p.count)]));
  const bar = getComputedStyle(document.getElementById('view-bar-strip')).backgroundImage
    .match(/rgb\([^)]*\)/g).map((t) => t.match(/\d+/g).map(Number));
  const p = pixels(), width = document.getElementById('view').width, height = p.length / 4 / width;
  const ends = (list) => list.reduce(([a, b], v) => [Math.min(a, v), Math.max(b, v)], [Infinity, -Infinity]);
  const inked = [...Array(width * height).keys()].filter((i) => p[4*i] + p[4*i+1] + p[4*i+2] < 720);
  const [left, right] = ends(inked.map((i) => i % width)), [top, bottom] = ends(inked.map((i) => Math.floor(i / width)));
  const extent = (points, axis) => ends(points.map((v) => at[3*v+axis]));
  const every = [...Array(at.length / 3).keys()], x = extent(every, 0), z = extent(every, 2);
  const y = extent([...used], 1), rim = extent([...used], 2)[1];
  let same = 0, all = 0;
  for (const v of used) {
    if (at[3*v+1] < y[1] - 0.1 * (y[1] - y[0])) continue;
    if (at[3*v+2] < z[0] + 0.1 * (rim - z[0]) || at[3*v+2] > z[0] + 0.75 * (rim - z[0])) continue;
    const px = Math.round(left + (x[1] - at[3*v]) / (x[1] - x[0]) * (right - left));
    const py = Math.round(top + (z[1] - at[3*v+2]) / (z[1] - z[0]) * (bottom - top));
    const seen = [0, 1, 2].map((c) => p[4 * (py * width + px) + c]);
    const place = value[v] / 65535 * (bar.length - 1), k = Math.min(bar.length - 2, Math.floor(place));
    const told = bar[k].map((c, i) => c + (place - k) * (bar[k+1][i] - c));
    const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2], shade = dot(seen, told) / dot(told, told);
    ++all;
    if (shade > 0.8 && shade < 1.01 && seen.every((c, i) => Math.abs(c - shade * told[i]) < 8)) ++same;
  }
  return [same, all];
})()"""


failures = []


def expect(good, what):
    if not good:
        failures.append(what)


def settle(browser):
    browser.ask("new Promise(r => requestAnimationFrame(() => requestAnimationFrame(r)))")


def key(browser, name, times=1):
    text = {"text": name} if len(name) == 1 else {}
    for _ in range(times):
        browser.call("Input.dispatchKeyEvent", type="keyDown", key=name, **text)
        browser.call("Input.dispatchKeyEvent", type="keyUp", key=name)
    settle(browser)


def mouse(browser, kind, x, y):
    browser.call("Input.dispatchMouseEvent", type=kind, x=x, y=y, button="left",
                 buttons=0 if kind == "mouseReleased" else 1, clickCount=1)


def use(browser, page, findings):
    browser.call("Page.enable")
    browser.call("Runtime.enable")
    browser.call("Network.enable")
    browser.call("Page.navigate", url="file://" + page)
    for _ in range(100):
        if browser.ask("document.readyState === 'complete' && "
                       "document.getElementById('view-load').value"):
            break
        time.sleep(0.2)
    text = lambda name: browser.ask(f"(e => e.value || e.textContent)(document.getElementById('{name}'))")
    settle(browser)
    expect(browser.ask("document.getElementById('view-status').textContent") == "",
           "no 3-D view: " + str(text("view-status")))

    # It draws: something that is not paper.
    browser.ask("""window.pixels = () => { const c = document.getElementById('view');
      const d = document.createElement('canvas'); d.width = c.width; d.height = c.height;
      const g = d.getContext('2d'); g.drawImage(c, 0, 0);
      return g.getImageData(0, 0, c.width, c.height).data; }; 0""")
    inked = browser.ask("""(p => { let n = 0; for (let i = 0; i < p.length; i += 4)
      if (p[i] + p[i+1] + p[i+2] < 720) ++n; return n / (p.length / 4); })(pixels())""")
    expect(inked > 0.02, f"the view is blank ({inked:.4f} of it is drawn on)")

    # Turning, with up staying up.
    browser.ask("document.getElementById('view').scrollIntoView({block: 'center'})")
    box = browser.ask("(e => (r => [r.left + e.clientLeft, r.top + e.clientTop])"
                      "(e.getBoundingClientRect()))(document.getElementById('view'))")
    x, y = box[0] + 40, box[1] + 40
    expect(text("view-angle") == "seen from 22° right of the front, 8° above",
           "first look: " + text("view-angle"))
    mouse(browser, "mousePressed", x, y)
    mouse(browser, "mouseMoved", x + 50, y)
    mouse(browser, "mouseMoved", x + 100, y)
    mouse(browser, "mouseReleased", x + 100, y)
    settle(browser)
    expect(text("view-angle") == "seen from 28° left of the front, 8° above",
           "after a drag of 100 px: " + text("view-angle"))
    key(browser, "ArrowLeft")
    expect("33° left" in text("view-angle"), "after the left arrow: " + text("view-angle"))
    key(browser, "ArrowUp", 25)
    expect("89° above" in text("view-angle"), "up does not stay up: " + text("view-angle"))
    key(browser, "Home")
    expect("22° right of the front, 8° above" in text("view-angle"), "Home: " + text("view-angle"))

    browser.ask("document.querySelector('[data-look=front]').click()")
    settle(browser)
    same, points = browser.ask(COLOURED_LIKE_THE_BAR)
    expect(points > 50 and same > 0.8 * points,
           f"{same} of {points} points of the front have their colour of the bar")
    browser.ask("document.querySelector('[data-look=corner]').click()")
    settle(browser)

    # The load: what is read at both ends is what was found.
    slide = lambda percent: (browser.ask(
        f"(e => {{ e.value = {percent}; e.dispatchEvent(new Event('input')); }})"
        "(document.getElementById('choose-load'))"), settle(browser))
    picture = "pixels().reduce((h, v) => (h * 31 + v) | 0, 7)"
    loaded = browser.ask(picture)
    full = re.match(r"100 % of the load: bottom sag ([\d.e-]+) cm, strap drop ([\d.e-]+) cm",
                    text("view-load"))
    expect(full is not None, "the load reads: " + text("view-load"))
    if full:
        for found, name in ((full[1], "bottom_sag_m"), (full[2], "strap_drop_loaded_m")):
            expect(math.isclose(float(found), 100 * findings[name], rel_tol=6e-3),
                   f"{name} reads {found} cm and is {100 * findings[name]} cm")
    slide(0)
    expect(text("view-load").startswith("0 % of the load: bottom sag 0 cm"),
           "empty reads: " + text("view-load"))
    expect(browser.ask(picture) != loaded, "the bag looks the same empty and loaded")
    slide(100)
    expect(browser.ask(picture) == loaded, "sliding there and back changes the picture")

    # A stitch, by key, then by clicking where the chosen one is marked.
    browser.ask("document.getElementById('view').focus()")
    key(browser, "n")
    said = text("view-stitch")
    first = re.match(r"Stitch 1 of (.+): ([\d.]+) N at full load", said)
    expect(first is not None, "the stitch reads: " + said)
    if first:
        site = [s for s in findings["strap_seams"] if s["name"] == first[1]]
        expect(len(site) == 1 and float(first[2]) <= 1.01 * site[0]["peak_stitch_N"],
               f"{said} against {site}")
    marked = browser.ask("""(p => { const w = document.getElementById('view').width; let x = 0, y = 0, n = 0;
      for (let i = 0; i < p.length; i += 4)
        if (p[i] > 190 && p[i+1] < 60 && p[i+2] < 60) { x += (i / 4) % w + 0.5; y += Math.floor(i / 4 / w) + 0.5; ++n; }
      return n ? [x / n, y / n, n] : null; })(pixels())""")
    expect(marked is not None, "the chosen stitch is not marked")
    key(browser, "p")
    expect("Click a stitch" in text("view-stitch"), "no stitch chosen: " + text("view-stitch"))
    if marked:
        scale = browser.ask("document.getElementById('view').clientWidth / document.getElementById('view').width")
        px, py = box[0] + marked[0] * scale, box[1] + marked[1] * scale
        mouse(browser, "mousePressed", px, py)
        mouse(browser, "mouseReleased", px, py)
        settle(browser)
        expect(text("view-stitch") == said, f"clicked there: {text('view-stitch')}, not {said}")

    # Nearer, and back.
    before = browser.ask(picture)
    browser.call("Input.dispatchMouseEvent", type="mouseWheel", x=x, y=y, deltaX=0, deltaY=-300)
    settle(browser)
    expect(browser.ask(picture) != before, "the wheel changes nothing")
    key(browser, "Home")
    expect(browser.ask(picture) == before, "Home does not go back to the first size")

    # Every field has its own colours; even contents press on the base only, which is not seen here.
    shown = set()
    fields = browser.ask("Array.from(document.getElementById('choose-field').options, o => o.text)")
    for i, field in enumerate(fields):
        browser.ask(f"(e => {{ e.value = {i}; e.dispatchEvent(new Event('change')); }})"
                    "(document.getElementById('choose-field'))")
        settle(browser)
        shown.add(browser.ask(picture))
    for name in ("hardest pull in the cloth", "strength", "curvature", "pressure of the contents"):
        expect(any(name in field for field in fields), f"no field {name} in {fields}")
    expect(len(shown) == len(fields), f"{len(shown)} pictures of {len(fields)} fields")

    # Cutting away the front shows something else.
    before = browser.ask(picture)
    browser.ask("(e => { e.value = 'width'; e.dispatchEvent(new Event('change')); })"
                "(document.getElementById('choose-cut'))")
    settle(browser)
    expect(browser.ask(picture) != before, "the cut changes nothing")

    pdf = base64.b64decode(browser.call("Page.printToPDF", paperWidth=8.27, paperHeight=11.69)["data"])
    pages = len(re.findall(rb"/Type\s*/Page[^s]", pdf))
    expect(1 <= pages <= 4, f"prints on {pages} pages")


def check_events(browser):
    for event in browser.events:
        if event.get("method") == "Runtime.exceptionThrown":
            failures.append("script error: " + json.dumps(event["params"])[:600])
        if event.get("method") == "Network.requestWillBeSent":
            url = event["params"]["request"]["url"]
            expect(url.startswith(("file:", "data:", "blob:")), "asks the network for " + url[:200])


def use_without_3d(browser, page):
    browser.call("Page.addScriptToEvaluateOnNewDocument",
                 source="HTMLCanvasElement.prototype.getContext = () => null")
    browser.call("Page.navigate", url="file://" + page)
    said = False
    for _ in range(100):
        said = browser.ask("/cannot draw in 3-D/.test(document.getElementById('view-status')?.textContent) && "
                           "document.getElementById('view').offsetHeight === 0")
        if said:
            break
        time.sleep(0.1)
    expect(said, "without WebGL the page does not say so")


def check_file(page):
    size = os.path.getsize(page)
    expect(size < MOST_BYTES, f"the page weighs {size} bytes")
    with open(page, encoding="utf-8") as file:
        html = file.read()
    for words in ("three.js authors", "Permission is hereby granted, free of charge",
                  'THE SOFTWARE IS PROVIDED "AS IS"'):
        expect(words in html, f"the page lacks the licence of three.js: {words}")


def main():
    totebench, scene = sys.argv[1:3]
    program = find_browser()
    if program is None:
        print("Skipped: no Chromium here to open the page with (package chromium).")
        return SKIPPED
    with tempfile.TemporaryDirectory() as work:
        out = os.path.join(work, "out")
        subprocess.run([totebench, "hang", scene, "--units", "cm", "--out", out, "--quiet"],
                       check=True, stdout=subprocess.DEVNULL)
        with open(os.path.join(out, "findings.json"), encoding="utf-8") as file:
            findings = json.load(file)
        browser = Browser(program, os.path.join(work, "profile"))
        try:
            target = browser.call("Target.createTarget", url="about:blank")["targetId"]
            browser.session = browser.call("Target.attachToTarget", targetId=target,
                                           flatten=True)["sessionId"]
            page = os.path.join(out, "report.html")
            check_file(page)
            use(browser, page, findings)
            use_without_3d(browser, page)
            check_events(browser)
        finally:
            browser.close()
    for failure in failures:
        print(failure, file=sys.stderr)
    if not failures:
        print("The page turns, slides, reads and prints.")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
