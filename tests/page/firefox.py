"""Headless Firefox, spoken to by its own remote protocol (Marionette): nothing but Python's own
library is needed."""
import json
import os
import shutil
import socket
import subprocess
import time

NAMES = ("firefox-esr", "firefox")
# Nothing is asked of the network, neither by Firefox nor by the page; files go where the test looks.
PREFERENCES = {
    "network.proxy.type": 1, "network.proxy.http": "127.0.0.1", "network.proxy.http_port": 9,
    "network.proxy.ssl": "127.0.0.1", "network.proxy.ssl_port": 9, "network.dns.disabled": True,
    "app.update.enabled": False, "browser.shell.checkDefaultBrowser": False,
    "datareporting.policy.dataSubmissionEnabled": False, "browser.download.folderList": 2,
    "browser.download.useDownloadDir": True, "browser.download.alwaysOpenPanel": False,
    "browser.helperApps.neverAsk.saveToDisk": "application/json,text/html,image/svg+xml",
}


def find_firefox():
    """Path of the program, None where there is none."""
    return next((p for p in map(shutil.which, NAMES) if p), None)


class Firefox:
    def __init__(self, program, profile, downloads):
        os.makedirs(profile)
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            port = free.getsockname()[1]
        chosen = {**PREFERENCES, "browser.download.dir": downloads, "marionette.port": port}
        with open(os.path.join(profile, "user.js"), "w", encoding="utf-8") as file:
            file.writelines(f"user_pref({json.dumps(name)}, {json.dumps(value)});\n" for name, value in chosen.items())
        self.process = subprocess.Popen([program, "--headless", "--marionette", "--remote-allow-system-access", "--no-remote",
                                         "--profile", profile],
                                        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        self.line = self.connect(port)
        self.rest = b""
        self.number = 0
        self.read()  # its greeting
        self.call("WebDriver:NewSession", capabilities={"alwaysMatch": {"timeouts": {"script": 60000}}})

    def connect(self, port):
        begin = time.time()
        while True:
            try:
                line = socket.create_connection(("127.0.0.1", port), timeout=5)
                line.settimeout(120)
                return line
            except OSError:
                if self.process.poll() is not None or time.time() - begin > 120:
                    raise
                time.sleep(0.1)

    def more(self):
        got = self.line.recv(1 << 20)
        if not got:
            raise EOFError("Firefox ended")
        self.rest += got

    def read(self):
        """A message: its length, a colon, JSON."""
        while b":" not in self.rest:
            self.more()
        length, self.rest = self.rest.split(b":", 1)
        while len(self.rest) < int(length):
            self.more()
        text, self.rest = self.rest[:int(length)], self.rest[int(length):]
        return json.loads(text)

    def call(self, command, **parameters):
        self.number += 1
        text = json.dumps([0, self.number, command, parameters]).encode()
        self.line.sendall(str(len(text)).encode() + b":" + text)
        _, _, error, result = self.read()
        if error:
            raise RuntimeError(f"{command}: {error['message'][:600]}")
        return result

    def navigate(self, address):
        self.call("WebDriver:Navigate", url=address)

    def ask(self, expression):
        """What an expression, or what it promises, comes to."""
        script = "return (0, eval)(arguments[0]);"
        return self.call("WebDriver:ExecuteScript", script=script, args=[expression], sandbox=None)["value"]

    def of_its_window(self, script):
        """What a script of the browser's own window returns, or what it promises."""
        self.call("Marionette:SetContext", value="chrome")
        try:
            return self.call("WebDriver:ExecuteScript", script=script, args=[])["value"]
        finally:
            self.call("Marionette:SetContext", value="content")

    def press(self, key):
        """A key, as the WebDriver standard numbers it."""
        strokes = [{"type": kind, "value": key} for kind in ("keyDown", "keyUp")]
        self.call("WebDriver:PerformActions", actions=[{"type": "key", "id": "keys", "actions": strokes}])

    def pdf(self):
        """The page as it would be printed, base64."""
        paper = {"page": {"width": 21.0, "height": 29.7}, "margin": dict.fromkeys(("top", "bottom", "left", "right"), 0)}
        return self.call("WebDriver:Print", shrinkToFit=False, background=True, **paper)["value"]

    def close(self):
        try:
            self.call("Marionette:Quit", flags=["eForceQuit"])
            self.process.wait(timeout=30)
        except Exception:  # it may be gone already
            self.process.kill()
            self.process.wait()
