"""Firefox, driven by the protocol it speaks itself (WebDriver BiDi), as Playwright knows only a
Firefox of its own. The variable FIREFOX may name one that is not on the path.
"""

import base64
import json
import os
import re
import shutil
import subprocess
import time
from contextlib import contextmanager

import websocket
from harness import NoBrowser

NAMES = ("firefox", "firefox-esr")
KEYS = {"ArrowRight": "\ue014", "ArrowLeft": "\ue012"}


@contextmanager
def firefox(folder, width=1280, height=1300):
    """A fresh Firefox without a window, its profile in the folder; yields a Page. Raises
    NoBrowser.
    """
    named = os.environ.get("FIREFOX") or next(filter(None, map(shutil.which, NAMES)), None)
    if named is None:
        raise NoBrowser("no Firefox was found; the variable FIREFOX may name one")
    profile = folder / "profile"
    profile.mkdir()
    log = folder / "log"
    options = ["--headless", "--no-remote", "--profile", str(profile)]
    with open(log, "w") as file:
        started = subprocess.Popen(
            [named, *options, "--remote-debugging-port", "0"],
            stdout=file,
            stderr=file,
            env=os.environ | {"HOME": str(folder)},
        )
    try:
        found, until = None, time.monotonic() + 60
        while not found:
            if started.poll() is not None or time.monotonic() > until:
                raise NoBrowser(f"Firefox did not start: {log.read_text()[-1000:]}")
            time.sleep(0.2)
            found = re.search(r"BiDi listening on (ws://\S+)", log.read_text())
        yield Page(f"{found[1]}/session", width, height)
    finally:
        started.terminate()
        started.wait(20)


class Page:
    """The one page of a Firefox. asked: addresses it fetched; errors: what its console told as an
    error.
    """

    def __init__(self, address, width, height):
        self.asked, self.errors, self.count = [], [], 0
        self.socket = websocket.create_connection(address, timeout=180, suppress_origin=True)
        self._call("session.new", capabilities={})
        self._call("session.subscribe", events=["network.beforeRequestSent", "log.entryAdded"])
        # the first window, which nobody looks at, never tells a page that it has the focus
        self.context = self._call("browsingContext.create", type="window")["context"]
        self._call("browsingContext.activate", context=self.context)
        self.resize(width, height)

    def _call(self, method, **params):
        self.count += 1
        self.socket.send(json.dumps({"id": self.count, "method": method, "params": params}))
        while True:
            told = json.loads(self.socket.recv())
            if told.get("method") == "network.beforeRequestSent":
                self.asked.append(told["params"]["request"]["url"])
            elif told.get("method") == "log.entryAdded":
                if told["params"]["level"] == "error":
                    self.errors.append(told["params"]["text"])
            elif told.get("id") == self.count:
                if told["type"] == "error":
                    raise RuntimeError(told["message"])
                return told["result"]

    def goto(self, url):
        """Open an address and wait until it is loaded."""
        self._call("browsingContext.navigate", context=self.context, url=url, wait="complete")

    def resize(self, width, height):
        """The size of the page."""
        size = {"width": width, "height": height}
        self._call("browsingContext.setViewport", context=self.context, viewport=size)

    def evaluate(self, script):
        """The value of a script, by way of JSON; a promise is waited for."""
        told = self._call(
            "script.evaluate",
            expression=f"(async () => JSON.stringify(await ({script})))()",
            target={"context": self.context},
            awaitPromise=True,
        )
        if told["type"] == "exception":
            raise RuntimeError(told["exceptionDetails"]["text"])
        return json.loads(told["result"].get("value", "null"))

    def wait_for(self, script, timeout_s=90):
        """Wait until a script says true."""
        until = time.monotonic() + timeout_s
        while not self.evaluate(f"!!({script})"):
            assert time.monotonic() < until, script
            time.sleep(0.1)

    def press(self, key):
        """A key at what has the focus."""
        way = [{"type": kind, "value": KEYS[key]} for kind in ("keyDown", "keyUp")]
        actions = [{"type": "key", "id": "keys", "actions": way}]
        self._call("input.performActions", context=self.context, actions=actions)

    def screenshot(self, path):
        """A picture of the page as PNG."""
        told = self._call("browsingContext.captureScreenshot", context=self.context)
        path.write_bytes(base64.b64decode(told["data"]))
