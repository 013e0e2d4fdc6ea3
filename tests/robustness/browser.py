"""Headless Chromium, spoken to with the DevTools protocol over a pipe: nothing but Python's own
library is needed."""
import json
import os
import select
import shutil
import subprocess
import time

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")


def find_browser():
    """Path of the program, None where there is none."""
    return next((p for p in map(shutil.which, NAMES) if p), None)


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
