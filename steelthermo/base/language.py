"""Another language. The English stands where it is used: in the program, in tables, problems and
lessons. A translator's file, in the format of gettext (.po), says the same in another language;
`steelthermo words` writes it.

The variable STEELTHERMO_LANGUAGE names the file. Where it is set, each module of the kit that is
loaded from then on asks here for the words of its sentences (see rewording.py). Without it
nothing is read, and all texts stay as they are.
"""

import json
import os
import re
from collections.abc import Iterable
from pathlib import Path

LANGUAGE = "STEELTHERMO_LANGUAGE"
_FIELD = re.compile(r"\{(\w+)[^{}]*\}")
_words = {}  # English text: the translator's


def translated(text: str) -> str:
    """A whole text in the language chosen, or as it is where nobody has translated it.

    Parameters
    ----------
    text : as it stands in the program, a table or a lesson

    Returns
    -------
    text

    Examples
    --------
    >>> translated("hot metal")
    'hot metal'
    """
    found = _words.get(text)
    return text if found is None else type(text)(found)


def worded(template: str, **fields: str) -> str:
    """A sentence in the language chosen with its fields filled in, each translated where it is a
    text of its own.

    Parameters
    ----------
    template : the English sentence, with the name of each field in braces
    fields : what stands in their places, as text

    Returns
    -------
    sentence

    Examples
    --------
    >>> worded("{metal_t} t of {what}", metal_t="152", what="hot metal")
    '152 t of hot metal'
    """
    return translated(template).format_map({n: translated(text) for n, text in fields.items()})


def each(texts):
    """The texts of a list that is shown, each in the language chosen."""
    return [translated(text) for text in texts]


def in_another_language() -> bool:
    """True where a translator's file is in use.

    Returns
    -------
    bool

    Examples
    --------
    >>> in_another_language()
    False
    """
    return bool(_words)


def speak_as_asked():
    """Take the translator's file that the environment names, and have the modules loaded from now
    on ask for its words. Nothing happens where none is named.
    """
    path = os.environ.get(LANGUAGE)
    if path and not _words:
        from .rewording import reword

        _words.update(read_po(Path(path).read_text(encoding="utf-8"))[0])
        reword(_words, {f.__name__: f for f in (worded, translated, each)})


def fields_of(text):
    """Names in braces in a text."""
    return set(_FIELD.findall(text))


def read_po(text: str) -> tuple:
    """What a translator's file says.

    Entries without a translation or marked fuzzy are left out, and so are those whose names in
    braces are not those of the English: they would stop a page.

    Parameters
    ----------
    text : of the file

    Returns
    -------
    {English: translation} and a list of what is wrong, in words

    Examples
    --------
    >>> read_po('msgid "slag"\\nmsgstr "escória"')
    ({'slag': 'escória'}, [])
    """
    found, wrong, entry, fuzzy, part = {}, [], {}, False, None
    for line in [*text.splitlines(), ""]:
        line = line.strip()
        if line.startswith("#,"):
            fuzzy = "fuzzy" in line
        elif line.startswith(("msgid ", "msgstr ")):
            part, _, quoted = line.partition(" ")
            entry[part] = json.loads(quoted)
        elif line.startswith('"') and part:
            entry[part] += json.loads(line)
        elif not line:
            english, said = entry.get("msgid", ""), entry.get("msgstr", "")
            if english and said and not fuzzy:
                if fields_of(english) == fields_of(said):
                    found[english] = said
                else:
                    wrong.append(f"{english[:60]!r}: the names in braces are not the same.")
            entry, fuzzy, part = {}, False, None
    return found, wrong


def po_text(
    entries: dict[str, list[str]], known: dict[str, str] | Iterable[tuple[str, str]] = ()
) -> str:
    """A translator's file.

    Parameters
    ----------
    entries : {English: places where it stands}
    known : {English: translation} so far

    Returns
    -------
    text of the file

    Examples
    --------
    >>> print(po_text({"slag": ["panel.py:12"]}).split("\\n\\n")[1])
    #: panel.py:12
    msgid "slag"
    msgstr ""
    """
    known = dict(known)
    lines = ['msgid ""', r'msgstr "Content-Type: text/plain; charset=UTF-8\n"', ""]
    for english, places in entries.items():
        lines += [f"#: {place}" for place in places[:3]]
        for part, text in (("msgid", english), ("msgstr", known.get(english, ""))):
            pieces = re.findall(r"[^\n]*\n|[^\n]+", text) or [""]
            quoted = [json.dumps(piece, ensure_ascii=False) for piece in pieces]
            lines += (
                [f"{part} {quoted[0]}", *quoted[1:]]
                if len(quoted) == 1
                else [
                    f'{part} ""',
                    *quoted,
                ]
            )
        lines.append("")
    return "\n".join(lines)


# The one thing that importing does, and only where a language was asked for: what is loaded before
# this keeps its English.
speak_as_asked()
