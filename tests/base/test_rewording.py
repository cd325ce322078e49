"""The sentences of a module are found and asked for by the same rules, and with English for English
a module that asks says what it says without asking.
"""

import ast

from steelthermo.base import has_words, texts_of_module
from steelthermo.base.language import each, worded
from steelthermo.base.rewording import _ASKED, _Asking

SOURCE = '''
"""No words of its own."""
KEY = {"hot metal": 1.5}
SAID = "It is taken out of the vessel."


def told(x, names, key="a_b"):
    """No words either."""
    if key == "no such text":
        return SAID
    cell = f"{key}_pct"
    return f"{x:.1f} t of {names[0]}, 100 %; {', '.join(names)} ({cell})" + " and more"
'''
FILE = {
    "{x} t of {names}, 100 %; {names_2} ({cell})": "{names}: {x} t, 100 %; {names_2} ({cell})",
    "hot metal": "Roheisen",
    "scrap": "Schrott",
    " and more": " und mehr",
    "It is taken out of the vessel.": "Es kommt aus dem Gefäß.",
}


def run(words=None):
    tree, names = ast.parse(SOURCE), {}
    if words is not None:
        _Asking(words, tree, True).visit(tree)

        def said(text):
            return words.get(text, text)

        def asked(template, **fields):
            return said(template).format_map({n: said(text) for n, text in fields.items()})

        for alias, name in _ASKED.items():
            names[alias] = {"worded": asked, "translated": said, "each": lambda x: map(said, x)}[
                name
            ]
    exec(compile(tree, "sample", "exec"), names)
    return names


def test_what_is_found():
    found = [text for _, text in texts_of_module(ast.parse(SOURCE))]
    assert set(found) - {"no such text"} == set(FILE) - {"scrap"}


def test_english_for_english_changes_nothing():
    """The plain twin: the module as it stands."""
    plain, asking = run()["told"], run({text: text for text in FILE})["told"]
    for names in (["hot metal"], ["scrap", "hot metal"]):
        assert asking(1.25, names) == plain(1.25, names)
    assert asking(1, [], "no such text") == plain(1, [], "no such text")


def test_another_language():
    made = run(FILE)
    said = made["told"](1.25, ["hot metal", "scrap"])
    assert said == "Roheisen: 1.2 t, 100 %; Roheisen, Schrott (a_b_pct) und mehr"
    assert made["told"](1, [], "no such text") == "Es kommt aus dem Gefäß."
    assert list(made["KEY"]) == ["hot metal"]  # a key stays


def test_what_has_words():
    assert has_words("{x} t of scrap") and has_words("Al2O3 in slag")
    assert not any(map(has_words, ("{x:.1f} kg", "{a}_pct", "<b>{x}</b>", "%CaO/%SiO2", "12 MJ")))


def test_the_functions_asked():
    assert worded("{a} of {b}", a="1", b="slag") == "1 of slag" and each(("a", "b")) == ["a", "b"]
