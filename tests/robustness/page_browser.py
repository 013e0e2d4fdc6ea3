#!/usr/bin/env python3
"""Opens a report page in headless Chromium and uses it as a person would: turns the bag, slides the
load, reads a stitch, prints. Usage: page_browser.py TOTEBENCH SCENE

Exit code 77 (skipped) with the reason when there is no Chromium. Speaks the DevTools protocol over a
pipe, so it needs nothing but Python's own library.
"""
import base64
import json
import math
import os
import re
import select
import shutil
import subprocess
import sys
import tempfile
import time

SKIPPED = 77
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "chrome")


class Browser:
    def __init__(self, program, profile):
        to_browser, self.out = os.pipe()
        self.inn, from_browser = os.pipe()

        def place():  # Chromium reads from 3 and writes to 4
            os.dup2(to_browser, 13)
            os.dup2(from_browser, 14)
            os.dup2(13, 3)
            os.dup2(14, 4)

        arguments = [program, "--headless=new", "--no-sandbox", "--remote-debugging-pipe",
                     "--user-data-dir=" + profile, "--use-gl=angle", "--use-angle=swiftshader",
                     "--enable-unsafe-swiftshader", "--window-size=1280,1000", "--hide-scrollbars",
                     "--no-first-run", "--disable-background-networking", "about:blank"]
        self.process = subprocess.Popen(arguments, preexec_fn=place, close_fds=False,
                                        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        os.close(to_browser)
        os.close(from_browser)
        self.rest = b""
        self.number = 0
        self.session = None
        self.events = []

    def read(self, deadline):
        while b"\0" not in self.rest:
            ready, _, _ = select.select([self.inn], [], [], max(0, deadline - time.time()))
            if not ready:
                raise TimeoutError("the browser does not answer")
            more = os.read(self.inn, 1 << 20)
            if not more:
                raise EOFError("the browser ended")
            self.rest += more
        text, self.rest = self.rest.split(b"\0", 1)
        return json.loads(text)

    def call(self, method, seconds=60, **parameters):
        self.number += 1
        message = {"id": self.number, "method": method, "params": parameters}
        if self.session:
            message["sessionId"] = self.session
        os.write(self.out, json.dumps(message).encode() + b"\0")
        deadline = time.time() + seconds
        while True:
            answer = self.read(deadline)
            if answer.get("id") == self.number:
                if "error" in answer:
                    raise RuntimeError(f"{method}: {answer['error']}")
                return answer["result"]
            self.events.append(answer)

    def ask(self, expression):
        result = self.call("Runtime.evaluate", expression=expression, returnByValue=True,
                           awaitPromise=True)
        if "exceptionDetails" in result:
            raise RuntimeError(str(result["exceptionDetails"]))
        return result["result"].get("value")

    def close(self):
        try:
            self.session = None
            self.call("Browser.close", seconds=10)
        except Exception:  # it may be gone already
            pass
        try:
            self.process.wait(timeout=10)
        except subprocess.TimeoutExpired:
            self.process.kill()


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

    # Every field has its own colours; even contents press on the base only, which is not seen here.
    shown = set()
    fields = browser.ask("Array.from(document.getElementById('choose-field').options, o => o.text)")
    for i, field in enumerate(fields):
        browser.ask(f"(e => {{ e.value = {i}; e.dispatchEvent(new Event('change')); }})"
                    "(document.getElementById('choose-field'))")
        settle(browser)
        shown.add(browser.ask(picture))
    for name in ("membrane force", "strength", "curvature", "pressure of the contents"):
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

    for event in browser.events:
        if event.get("method") == "Runtime.exceptionThrown":
            failures.append("script error: " + json.dumps(event["params"])[:600])
        if event.get("method") == "Network.requestWillBeSent":
            url = event["params"]["request"]["url"]
            expect(url.startswith(("file:", "data:", "blob:")), "asks the network for " + url[:200])


def main():
    totebench, scene = sys.argv[1:3]
    program = next((p for p in map(shutil.which, BROWSERS) if p), None)
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
            use(browser, os.path.join(out, "report.html"), findings)
        finally:
            browser.close()
    for failure in failures:
        print(failure, file=sys.stderr)
    if not failures:
        print("The page turns, slides, reads and prints.")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
