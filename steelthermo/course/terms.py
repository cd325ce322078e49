"""The words of the trade where a lesson first uses them: what each means on hover, and for who
reads by keyboard, on paper or on a phone, a folded list of all words of the lesson.

Both stand in the saved lessons; tests/tools/write_terms.py writes them from the glossary.
"""

import re
from html import escape

from ..base import Table, translated
from ..coursekit.answers import bound

TITLE = "Words of this lesson"
_ABBR = re.compile(r'<abbr title="[^"]*">(.*?)</abbr>', re.DOTALL)
_LIST = re.compile(r"\n\n<details><summary>[^<]*</summary>\n\n- \*\*.*?\n\n</details>", re.DOTALL)
# Where a word is not explained: code, formulas, headings, links, lists of sources
_ASIDE = re.compile(
    r"(## Sources.*\Z|```.*?```|`[^`]*`|\$[^$]*\$|^[#|][^\n]*$|^ {4}[^\n]*$|\[[^\]]*\]\([^)]*\)"
    r"|<abbr.*?</abbr>|<[^>]*>)",
    re.DOTALL | re.MULTILINE,
)
# "heat" is a batch of steel where it is counted, else mostly energy
_COUNTED = r"(?:(?<=\b[Aa] )|(?<=\b[Aa] \*)|(?<=\bone )|(?<=\busual )|(?<=\beach ))"
_BATCH = re.compile(rf"{_COUNTED}heats?\b(?! (?:is|energy|balance))")


def pattern(term):
    """What finds a term of the glossary in a text."""
    if term == "heat (a batch)":
        return _BATCH
    name = re.escape(re.sub(r" \(.*\)", "", term))
    flags = 0 if name[0].isupper() else re.IGNORECASE
    return re.compile(rf"(?<![\w-]){name}(?:s|es|ed)?(?![\w-])", flags)


def without_terms(text):
    """A Markdown text as it is written, without what with_terms() adds."""
    return _LIST.sub("", _ABBR.sub(r"\1", text))


def with_terms(sources):
    """Markdown texts of a lesson in their order, each term explained at its first use, and the list
    in the first of them.
    """
    texts, used = [without_terms(text) for text in sources], []
    rows = sorted(Table("glossary").rows, key=lambda row: -len(row["key"].partition(" (")[0]))
    for row in rows:
        for k, text in enumerate(texts):
            marked = _explained(text, row)
            if marked != text:
                texts[k] = marked
                used.append(row["key"])
                break
    return [with_list(texts[0], used), *texts[1:]] if used else texts


def _explained(text, row):
    """The text with the first use of a term explained; as it is where there is none."""
    find, title = pattern(row["key"]), escape(bound(row["words"]))
    parts = _ASIDE.split(text)
    for k in range(0, len(parts), 2):
        found = find.search(parts[k])
        if found:
            new = f'<abbr title="{title}">{found[0]}</abbr>'
            parts[k] = parts[k][: found.start()] + new + parts[k][found.end() :]
            return "".join(parts)
    return text


def terms_of(sources):
    """Keys of the terms that the list of a lesson tells, from its texts as they are saved."""
    found = _LIST.search(sources[0]) if sources else None
    return re.findall(r"^- \*\*(.+?)\*\*", found[0], re.MULTILINE) if found else []


def with_list(text, terms):
    """A Markdown text with the list of these terms behind the paragraph that says what one can do
    afterwards (the third), or at its end.
    """
    rows, lines = Table("glossary").by_key, []
    for term in sorted(terms, key=str.casefold):
        others = translated(rows[term]["others"])
        others = "" if others == "none" else f" ({others})"
        words = bound(translated(rows[term]["words"]))
        lines.append(f"- **{translated(term)}**{others}: {words}")
    told = f"<details><summary>{translated(TITLE)}</summary>\n\n{chr(10).join(lines)}\n\n</details>"
    parts = text.split("\n\n")
    at = next(
        (k + 1 for k, part in enumerate(parts) if part.startswith("**Afterwards")), len(parts)
    )
    return "\n\n".join([*parts[:at], told, *parts[at:]])
