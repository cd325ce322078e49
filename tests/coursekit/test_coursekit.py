"""The kit teaches a course that is not about steel, and no module of steel is loaded for it."""

import json
import subprocess
import sys
from pathlib import Path

TESTS = Path(__file__).resolve().parents[1]
LESSON = """
import json, sys
sys.path.insert(0, sys.argv[1])
from pathlib import Path
from toy_course import COFFEE
from steelthermo.coursekit import use
from steelthermo.coursekit.marking import answer_key_csv, draws_for, mark
from steelthermo.coursekit.page import show
from steelthermo.coursekit.panel import make_panel
from steelthermo.coursekit.problems import draw

use(COFFEE)
folder, said = Path(sys.argv[2]), {}
drawn = draw(COFFEE.problem("cooling.after"), "Ada")
said["given"], said["right"] = drawn.given, drawn.number
said["slip"] = drawn.slips["room"][1]
page = show("1", folder)
page.name.value = "Ada"
page.begin()
after, milk = page.views.values()
after.box.value = f"{said['slip']:.2f} °C"
after.check()
said["wrong"] = after.feedback.value
after.box.value = f"{said['right']:.1f} °C of coffee"
after.check()
said["done"] = after.feedback.value
milk.choice.value = milk.draw.choice
milk.check()
said["progress"] = page.progress.value
panel = make_panel("cooling")
said["panel"] = [panel.title, panel.text]
panel.set(hot_c=60)
said["cooler"] = panel.text
panel._ipython_display_()
report = mark(folder)
said["row"] = report.table[0]
said["told"] = report.told
said["report"] = "When can I drink my coffee?" in report.html
said["key"] = answer_key_csv(draws_for(["Ada"]))
said["loaded"] = sorted(
    m for m in sys.modules
    if m.startswith("steelthermo.") and m.split(".")[1] not in ("base", "coursekit")
)
said["cantera"] = "cantera" in sys.modules
Path(sys.argv[3]).write_text(json.dumps(said))
"""


def test_a_course_on_coffee(tmp_path):
    """Drawn, answered, marked, its panel moved, in a process of its own. Right values: by hand."""
    out = tmp_path / "said.json"
    work = tmp_path / "work"
    (work / "answers").mkdir(parents=True)
    command = [sys.executable, "-c", LESSON, str(TESTS), str(work), str(out)]
    subprocess.run(command, check=True, capture_output=True, cwd=TESTS.parent)
    said = json.loads(out.read_text())
    assert said["loaded"] == [] and not said["cantera"]
    g = said["given"]
    above = (g["hot_c"] - g["room_c"]) / 2.0 ** (g["time_min"] / g["half_min"])
    assert abs(said["right"] - g["room_c"] - above) < 1e-9
    assert "it stops at" in said["wrong"] and "Right." in said["done"]
    assert "2 of 2 problems solved" in said["progress"]
    # from 85 to 60 °C in a room of 20 °C: 18 min times log2(65/40); at 60 °C at once
    assert said["panel"] == ["When can I drink my coffee?", "It can be drunk after 12.6 min."]
    assert said["cooler"] == "It can be drunk after 0.0 min."
    row = said["row"]
    assert (row["solved"], row["problems"], row["remarks"]) == (2, 2, "")
    assert row["attempts"] == 3 and row["cooling.milk"] == 1
    assert said["told"] == [] and said["report"] and "cooling.after" in said["key"]
