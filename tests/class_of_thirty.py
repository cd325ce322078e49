"""A class on one JupyterHub: memory, waiting and latency. Run by hand on Linux: python
tests/class_of_thirty.py [LEARNERS] (default 30)

A JupyterHub (from PyPI) with its proxy (configurable-http-proxy, from npm), both installed in a
temporary folder, serves this computer only. Invented learners ask for their servers all at once,
run every code cell of lesson 08 through hub and proxy as a page would, and then each moves a slider
20 times, one move a second (--pause). It prints, as median and 95th percentile over the learners:
- seconds from the request to a server, and from it to the lesson's panel with its first picture;
- milliseconds from a move of the slider to the arrival of the new picture (what a browser needs to
show it is not in it: see latency.py);
- memory of a learner's server and kernel (proportional set size: what several processes share is
counted once).
The pretended pages run on the same processors, which makes the figures a little worse than a hub's.
At the end, or after --limit seconds, all is stopped.

--tools FOLDER keeps hub and proxy installed there. The users have no system accounts and no
protection from each other: for measuring only.
"""

import argparse
import asyncio
import json
import os
import secrets
import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import nbformat
import psutil
from jupyter_client.session import Session
from jupyter_server.services.kernels.connection.base import deserialize_binary_message
from tornado.httpclient import AsyncHTTPClient, HTTPError, HTTPRequest
from tornado.websocket import WebSocketClosedError, websocket_connect

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from steelthermo.app.working_copy import working_copy

LESSON = "lessons/08_heat_balance.ipynb"
MOVES = 20
SETTINGS = """
import sys
c.JupyterHub.authenticator_class = "dummy"
c.Authenticator.allow_all = True
c.JupyterHub.spawner_class = "simple"
c.SimpleLocalProcessSpawner.home_dir_template = {homes!r} + "/{{username}}"
c.Spawner.cmd = [sys.executable, "-m", "jupyterhub.singleuser"]
c.Spawner.args = ["--allow-root"]
c.Spawner.environment = {{"OPENBLAS_NUM_THREADS": "1", "JUPYTER_PREFER_ENV_PATH": "1",
    "JUPYTER_CONFIG_PATH": {settings!r}}}  # what the wheel brings to etc/jupyter
c.Spawner.start_timeout = c.Spawner.http_timeout = 600
c.JupyterHub.concurrent_spawn_limit = 0
c.JupyterHub.tornado_settings = {{"slow_spawn_timeout": 0}}
c.JupyterHub.bind_url = "http://127.0.0.1:{public}"
c.JupyterHub.hub_bind_url = "http://127.0.0.1:{hub}"
c.ConfigurableHTTPProxy.api_url = "http://127.0.0.1:{api}"
c.ConfigurableHTTPProxy.command = [{proxy!r}]
c.JupyterHub.db_url = "sqlite:///hub.sqlite"
c.JupyterHub.log_level = "WARN"
c.JupyterHub.services = [{{"name": "class", "api_token": {token!r}}}]
c.JupyterHub.load_roles = [{{"name": "class", "services": ["class"],
    "scopes": ["admin:users", "admin:servers", "access:servers"]}}]
"""


def install(folder):
    """Hub and proxy into the folder, if they are not there; returns (folder for PYTHONPATH, path of
    the proxy).
    """
    python, node = folder / "python", folder / "node"
    proxy = node / "node_modules" / ".bin" / "configurable-http-proxy"
    if not (python / "jupyterhub").is_dir():
        subprocess.run(
            [sys.executable, "-m", "pip", "install", "-q", "--target", str(python), "jupyterhub"],
            check=True,
            stderr=subprocess.DEVNULL,
        )
    if not proxy.exists():
        node.mkdir(parents=True, exist_ok=True)
        subprocess.run(
            [
                shutil.which("npm") or "npm",
                "install",
                "--silent",
                "--prefix",
                str(node),
                "configurable-http-proxy",
            ],
            check=True,
        )
    return python, proxy


def free_ports(count):
    """Ports of this computer that nobody uses now."""
    held = [socket.create_server(("127.0.0.1", 0)) for _ in range(count)]
    ports = [s.getsockname()[1] for s in held]
    for s in held:
        s.close()
    return ports


class LineClosed(Exception):
    """The line between page and kernel was closed by the other side."""


class Learner:
    """One learner's page, without the page: a server, a kernel, the lesson's cells, and a slider
    that is moved.
    """

    def __init__(self, name, url, token):
        self.name, self.url, self.headers = name, url, {"Authorization": f"token {token}"}
        self.session = Session(key=b"")
        self.state = {}  # comm id: state of a widget
        self.waiting = {}  # what is awaited: its future
        self.latencies = []
        self.closed = 0  # how often the line was closed
        self.requests = 0  # for a server: more than one if the hub gave one up

    async def ask(self, method, path, body=None):
        request = HTTPRequest(
            self.url + path,
            method=method,
            headers=self.headers,
            body=None if body is None else json.dumps(body),
            request_timeout=600,
        )
        request.allow_nonstandard_methods = True
        reply = await AsyncHTTPClient().fetch(request)
        return json.loads(reply.body) if reply.body else None

    async def start_server(self):
        asked = time.monotonic()
        while True:
            server = (await self.ask("GET", f"/hub/api/users/{self.name}"))["servers"].get("", {})
            if server.get("ready"):
                break
            if not server.get(
                "pending"
            ):  # not asked for yet, or the hub gave it up: ask (again), as a learner would
                self.requests += 1
                await self.ask("POST", f"/hub/api/users/{self.name}/server", {})
            await asyncio.sleep(1)
        self.to_server = time.monotonic() - asked

    async def run_lesson(self, cells):
        """Open the lesson; if the line to the kernel is closed meanwhile, once more from the start,
        as a learner would who loads the page again.
        """
        begin = time.monotonic()
        for last in (False, False, True):
            try:
                await self.open_lesson(cells)
                break
            except LineClosed:
                self.closed += 1
                if last:
                    raise
        self.to_picture = time.monotonic() - begin
        density = next(
            key for key, s in self.state.items() if "st-density" in (s.get("_dom_classes") or ())
        )
        drawn = self.expect(("picture", self.image))
        self.change(density, "1")  # what the page of an ordinary screen tells the panel
        await drawn

    async def open_lesson(self, cells):
        self.state, self.waiting = {}, {}
        body = {"path": LESSON, "name": LESSON, "type": "notebook", "kernel": {"name": "python3"}}
        kernel = (await self.ask("POST", f"/user/{self.name}/api/sessions", body))["kernel"]["id"]
        address = (
            f"{self.url.replace('http', 'ws')}/user/{self.name}/api/kernels/{kernel}/channels"
            f"?session_id={self.session.session}"
        )
        self.line = await websocket_connect(
            HTTPRequest(address, headers=self.headers, request_timeout=600), max_message_size=2**27
        )
        self.reader = asyncio.create_task(self.read())
        for cell in cells:
            content = {
                "code": cell,
                "silent": False,
                "store_history": True,
                "user_expressions": {},
                "allow_stdin": False,
                "stop_on_error": True,
            }
            done = self.expect(("reply", self.send("execute_request", content)))
            reply = await done
            if reply["status"] != "ok":
                raise RuntimeError(
                    f"{self.name}: a cell of lesson 08 failed: {reply.get('ename')}: "
                    f"{reply.get('evalue')}"
                )
        self.slider = self.first("FloatSliderModel")
        self.image = self.first("ImageModel")
        if not self.state[self.image].get("seen"):
            await self.expect(("picture", self.image))

    async def move(self, pause):
        state = self.state[self.slider]
        low, step = state["min"], state["step"]
        steps = round((state["max"] - low) / step)
        await asyncio.sleep(
            pause * secrets.randbelow(1000) / 1000
        )  # learners do not move in time with each other
        for at in range(MOVES):
            value = low + step * (steps // 4 + at % 15 + 1)
            drawn = self.expect(("picture", self.image))
            begin = time.monotonic()
            try:
                self.change(self.slider, value)
                await drawn
            except LineClosed:  # counted; the others go on
                self.closed += 1
                return
            took = time.monotonic() - begin
            self.latencies.append(took)
            await asyncio.sleep(max(0.05, pause - took))

    def first(self, model):
        return next(key for key, s in self.state.items() if s.get("_model_name") == model)

    def change(self, comm, value):
        self.send(
            "comm_msg",
            {
                "comm_id": comm,
                "data": {"method": "update", "state": {"value": value}, "buffer_paths": []},
            },
        )

    def send(self, kind, content):
        message = self.session.msg(kind, content) | {"channel": "shell"}
        try:
            self.line.write_message(json.dumps(message, default=str))
        except WebSocketClosedError:
            raise LineClosed(self.name) from None
        return message["header"]["msg_id"]

    def expect(self, what):
        self.waiting[what] = asyncio.get_running_loop().create_future()
        return self.waiting[what]

    def arrived(self, what, value=None):
        future = self.waiting.pop(what, None)
        if future is not None and not future.done():
            future.set_result(value)

    async def read(self):
        while (raw := await self.line.read_message()) is not None:
            message = json.loads(raw) if isinstance(raw, str) else deserialize_binary_message(raw)
            content, kind = message["content"], message["header"]["msg_type"]
            if kind == "execute_reply":
                self.arrived(("reply", message["parent_header"]["msg_id"]), content)
            elif kind == "comm_open" or (
                kind == "comm_msg" and content["data"].get("method") == "update"
            ):
                comm, state = content["comm_id"], content["data"]["state"]
                self.state.setdefault(comm, {}).update(state)
                if ["value"] in content["data"].get("buffer_paths", ()) and any(
                    map(len, message["buffers"])
                ):  # a picture's bytes
                    self.state[comm]["seen"] = True
                    self.arrived(("picture", comm))
        for future in self.waiting.values():  # nothing will come any more
            if not future.done():
                future.set_exception(LineClosed(self.name))

    def stop(self):
        if hasattr(self, "reader"):
            self.reader.cancel()
            self.line.close()


def memory_mb(hub):
    """Proportional set sizes, MB: ({learner: server}, {learner: kernel}, hub, proxy)."""
    servers, kernels, rest = {}, {}, 0.0
    for process in hub.children(recursive=True):
        try:
            owner, words, size = (
                process.environ().get("JUPYTERHUB_USER"),
                " ".join(process.cmdline()),
                process.memory_full_info().pss / 1e6,
            )
        except psutil.Error:
            continue
        if owner is None:
            rest += size
        elif "ipykernel" in words:
            kernels[owner] = kernels.get(owner, 0.0) + size
        else:
            servers[owner] = servers.get(owner, 0.0) + size
    return servers, kernels, hub.memory_full_info().pss / 1e6, rest


def spread(values, digits=0):
    values = sorted(values)
    return (
        f"median {statistics.median(values):.{digits}f}, 95th percentile "
        f"{values[max(0, round(0.95 * len(values)) - 1)]:.{digits}f}"
    )


async def lesson(learners, cells, pause, hub):
    """The class, from the first request to the last move; prints as it goes."""
    first = learners[0]
    while True:
        try:
            await first.ask("GET", "/hub/api/")
            break
        except (OSError, HTTPError):  # the proxy, or the hub behind it, is not there yet
            await asyncio.sleep(0.2)
    await first.ask("POST", "/hub/api/users", {"usernames": [learner.name for learner in learners]})
    await asyncio.gather(*(learner.start_server() for learner in learners))
    again = sum(learner.requests - 1 for learner in learners)
    print(
        f"request to server, s:              {spread([x.to_server for x in learners], 1)}; asked "
        f"again {again} times",
        flush=True,
    )
    await asyncio.gather(*(learner.run_lesson(cells) for learner in learners))
    print(
        f"from there to first picture, s:    {spread([x.to_picture for x in learners], 1)}",
        flush=True,
    )
    busy = psutil.cpu_times_percent(None)
    await asyncio.gather(*(learner.move(pause) for learner in learners))
    busy = 100 - psutil.cpu_times_percent(None).idle
    closed = sum(learner.closed for learner in learners)
    print(f"lines to kernels closed:           {closed}", flush=True)
    latencies = [1000 * took for learner in learners for took in learner.latencies]
    print(
        f"move of a slider to picture, ms:   {spread(latencies)} ({len(latencies)} moves, "
        f"processors {busy:.0f} % busy)",
        flush=True,
    )
    servers, kernels, hub_mb, proxy_mb = memory_mb(hub)
    print(f"memory of a server, MB:            {spread(servers.values())}")
    print(f"memory of a kernel, MB:            {spread(kernels.values())}")
    print(f"memory of hub and proxy, MB:       {hub_mb:.0f} and {proxy_mb:.0f}")


async def bounded(learners, cells, options, hub):
    try:
        await asyncio.wait_for(lesson(learners, cells, options.pause, hub), options.limit)
    finally:
        for learner in learners:
            learner.stop()


def stop(hub):
    """The hub, its proxy and all servers and kernels; none other."""
    family = [hub, *hub.children(recursive=True)]
    hub.terminate()
    psutil.wait_procs([hub], 15)
    for process in family:
        try:
            process.kill()  # psutil never kills another process that came to the same number
        except psutil.NoSuchProcess:
            pass


def main():
    options = argparse.ArgumentParser(
        description="a class on one JupyterHub: memory, waiting, latency"
    )
    options.add_argument("learners", nargs="?", type=int, default=30)
    options.add_argument(
        "--pause", type=float, default=1.0, help="seconds between two moves of a learner"
    )
    options.add_argument(
        "--limit", type=float, default=400.0, help="seconds after which the run is given up"
    )
    options.add_argument("--tools", type=Path, help="folder that keeps hub and proxy")
    options = options.parse_args()
    AsyncHTTPClient.configure(None, max_clients=4 * options.learners)
    cells = [
        cell.source for cell in nbformat.read(ROOT / LESSON, 4).cells if cell.cell_type == "code"
    ]
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        python, proxy = install((options.tools or folder / "tools").absolute())
        homes = folder / "homes"
        names = [f"learner{n:02}" for n in range(1, options.learners + 1)]
        for name in names:
            working_copy(homes / name)
            (homes / name / "course.toml").write_text(
                "predict_first = false\n", encoding="utf-8"
            )  # the sliders are free from the start
        public, hub_port, api = free_ports(3)
        token = secrets.token_hex(16)
        (folder / "settings.py").write_text(
            SETTINGS.format(
                homes=str(homes),
                settings=str(ROOT / "steelthermo" / "app" / "hub"),
                public=public,
                hub=hub_port,
                api=api,
                proxy=str(proxy),
                token=token,
            )
        )
        env = {
            key: value
            for key, value in os.environ.items()
            if not key.startswith(("JUPYTER", "STEELTHERMO"))
        }
        env["PYTHONPATH"] = os.pathsep.join((str(ROOT), str(python)))
        print(
            f"{options.learners} learners on {os.cpu_count()} processors, load before "
            f"{os.getloadavg()[0]:.1f}",
            flush=True,
        )
        with open(folder / "log", "w") as log:
            command = [sys.executable, "-m", "jupyterhub", "-f", str(folder / "settings.py")]
            hub = psutil.Popen(command, cwd=folder, env=env, stdout=log, stderr=log)
        learners = [Learner(name, f"http://127.0.0.1:{public}", token) for name in names]
        try:
            asyncio.run(bounded(learners, cells, options, hub))
        except BaseException:
            print((folder / "log").read_text(errors="replace")[-3000:], file=sys.stderr)
            raise
        finally:
            stop(hub)


if __name__ == "__main__":
    main()
