"""The sentences of a module: found for the translator's file, and asked for in another language
when the module is loaded.

Both read the module's syntax tree by the same rules, so what is shown is what was found. The
program keeps its f-strings: f"{x:.1f} t of scrap" asks for the words of "{x} t of scrap", and the
number is written as the program writes it. Short texts that may be keys too ("hot metal") are left
alone here; whoever shows them asks translated().
"""

import ast
import re
import sys
from importlib.abc import MetaPathFinder
from importlib.machinery import PathFinder, SourceFileLoader

_TAG = re.compile(r"<[^>]*>|&\w+;|\{\w+\}")
_WORD = re.compile(r"(?<![\w.\-/=:#])[A-Za-z]{2,}(?![\w(/=])")
_UNITS = {"kg", "min", "mol", "kmol", "kJ", "MJ", "ppm", "kPa", "Pa", "mm", "Nm", "px", "log", "ln"}
_SENTENCE = re.compile(r"\s.*[.?!:]$|^\s|\s$|(?:\S+\s+){5}", re.DOTALL)
# How a module calls what it asks of language.py, by names that no module has
_ASKED = {"_asks_worded": "worded", "_asks_translated": "translated", "_asks_each": "each"}
# Arguments that are no words, by the name of the keyword or of the function
_NO_WORDS = set(
    "ha va color fontsize linestyle marker transform along css fontweight weight hatch facecolor "
    "edgecolor encoding mode newline errors dest metavar action choices key how kind of_class row "
    "column html getattr setattr hasattr startswith endswith removesuffix removeprefix split "
    "add_class compile sub match search findall fullmatch open read_text write_text import_module "
    "plant_value constant rows Table sources find_spec replace partition strip namedtuple "
    "observe hook Html register environ get set_ha set_va layout".split()
)


def has_words(text: str) -> bool:
    """True if a text has a word that a translator could translate.

    Parameters
    ----------
    text : as it stands in the program, with names in braces

    Returns
    -------
    bool

    Examples
    --------
    >>> has_words("{x:.1f} t of scrap"), has_words("{x:.1f} kg")
    (True, False)
    """
    plain = _TAG.sub(" ", text)
    if "{{" in text or "\\" in text or "://" in text:
        return False
    return any(word not in _UNITS for word in _WORD.findall(plain))


def _name(node):
    """A name for what stands in a field, as a translator meets it."""
    if isinstance(node, ast.Name):
        return node.id
    if isinstance(node, ast.Attribute):
        return _name(node.value) if node.attr == "value" else node.attr
    if isinstance(node, ast.Subscript):
        key = getattr(node.slice, "value", None)
        return key if isinstance(key, str) and key.isidentifier() else _name(node.value)
    if isinstance(node, ast.Call):
        inner = _name(node.args[0]) if node.args else "value"
        return inner if inner != "value" else _name(node.func)
    if isinstance(node, ast.BinOp):
        return _name(node.left)
    return "value"


def template_of(node):
    """(template, {name: field}) of an f-string."""
    text, fields = [], {}
    for part in node.values:
        if isinstance(part, ast.Constant):
            text.append(part.value.replace("{", "{{").replace("}", "}}"))
            continue
        first = name = _name(part.value).strip("_") or "value"
        count = 1
        while name in fields:
            count += 1
            name = f"{first}_{count}"
        fields[name] = part
        text.append(f"{{{name}}}")
    return "".join(text), fields


def _is_shown(template, shows):
    """True if a template without words joins texts that are shown, and no parts of a key or path.
    shows: its room shows what it makes; others write lines of tables with blanks too.
    """
    literal = re.sub(r"\{\w+\}", "x", template)
    joins = re.search(r"[\s,*]" if shows else r" \(|% ", literal)
    return joins and not re.search(r"[_=#<-]|\.(?=\S)|^\S*/", literal)


def _documents(tree):
    """Nodes that are never shown: docstrings, keys, what is compared, annotations."""
    hidden = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef) and node.body:
            first = node.body[0]
            if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
                hidden.add(first.value)
        if isinstance(node, ast.Compare):
            hidden |= {node.left, *node.comparators}
        elif isinstance(node, ast.Subscript):
            hidden.add(node.slice)
        elif isinstance(node, ast.JoinedStr):
            hidden |= {n for v in node.values for n in ([v] if isinstance(v, ast.Constant) else [])}
            hidden |= {
                n
                for v in node.values
                if isinstance(v, ast.FormattedValue) and v.format_spec
                for n in ast.walk(v.format_spec)
            }
        elif isinstance(node, ast.keyword) and node.arg in _NO_WORDS:
            hidden.add(node.value)
        elif isinstance(node, ast.Call) and _name(node.func) in _NO_WORDS:
            hidden |= {*node.args, getattr(node.func, "value", None)}
        elif isinstance(node, ast.MatchValue):
            hidden.add(node.value)
        elif isinstance(node, ast.Dict):
            hidden |= {k for k in node.keys if k and not isinstance(k, ast.JoinedStr)}
    return hidden


def texts_of_module(tree: ast.AST) -> list:
    """(line, text) of what a module may show, in the order it stands; words that stand alone too,
    if by their looks they are no keys.

    Parameters
    ----------
    tree : the syntax tree of the module, as ast.parse() gives it

    Returns
    -------
    pairs of line and text

    Examples
    --------
    >>> texts_of_module(ast.parse("print(f'{kg:.1f} kg of scrap')"))
    [(1, '{kg} kg of scrap')]
    """
    hidden, found, asked = _documents(tree), [], _asked_for(tree)
    keys = {k for n in ast.walk(tree) if isinstance(n, ast.Dict) for k in n.keys if k}
    for node in ast.walk(tree):
        if node in asked:
            continue
        if isinstance(node, ast.JoinedStr):
            text = template_of(node)[0]
            if (
                re.search(r"\s", text.strip())
                and has_words(text)
                or re.match(r"^[A-Z][a-z]+ ?\{", text)
            ):
                found.append((node.lineno, text))
        elif isinstance(node, ast.Constant) and isinstance(node.value, str):
            text = node.value
            alone = re.fullmatch(r"[A-Za-z][a-z-]{2,}\*?", text)
            if (
                (node not in hidden or node in keys)
                and has_words(text)
                and (re.search(r"\s", text) or alone)
            ):
                found.append((node.lineno, text))
    return sorted(dict.fromkeys(found))


def _asked_for(tree):
    """Parts of a module that say what sources() is asked for: keys, no words."""
    found = set()
    for node in ast.walk(tree):
        call = isinstance(node, ast.Call) and _name(node.func).endswith("sources")
        if call or isinstance(node, ast.FunctionDef) and node.name.endswith("sources"):
            found |= set(ast.walk(node))
        elif isinstance(node, ast.Compare | ast.Subscript):
            key = node.slice if isinstance(node, ast.Subscript) else node
            found |= {n for n in ast.walk(key) if isinstance(n, ast.JoinedStr)}
    return found


def _told(tree):
    """Texts handed over as help of a command, however short."""
    return {
        node
        for keyword in ast.walk(tree)
        if isinstance(keyword, ast.keyword) and keyword.arg in ("help", "description", "epilog")
        for node in ast.walk(keyword.value)
    }


def _asked(function, node, args, keywords=()):
    """A call of a function in the place of a node."""
    call = ast.Call(ast.Name(function, ast.Load()), args, list(keywords))
    return ast.fix_missing_locations(ast.copy_location(call, node))


class _Asking(ast.NodeTransformer):
    """Puts worded(...) in the place of each sentence that the translator's file has."""

    def __init__(self, words, tree, shows):
        self.words, self.hidden, self.shows = words, _documents(tree), shows
        self.told, self.asked = _told(tree), _asked_for(tree)

    def _call(self, node, text, fields):
        given = [
            ast.keyword(
                name, ast.JoinedStr([part]) if isinstance(part, ast.FormattedValue) else part
            )
            for name, part in fields.items()
        ]
        return _asked("_asks_worded", node, [ast.Constant(text)], given)

    def visit_JoinedStr(self, node):
        text, fields = template_of(node)
        self.generic_visit(node)
        if node in self.asked:
            return node
        if text in self.words or (fields and _is_shown(text, self.shows)):
            return self._call(node, text, fields)
        return node

    def visit_Call(self, node):
        """', '.join(texts) in a room that shows it translates each text."""
        self.generic_visit(node)
        by = getattr(node.func, "value", None)
        if isinstance(by, ast.Call) and by.args:
            by = by.args[0]  # translated itself by now
        if self.shows and getattr(node.func, "attr", "") == "join" and isinstance(by, ast.Constant):
            if isinstance(by.value, str) and re.search(r"\s", by.value):
                node.args = [_asked("_asks_each", node, node.args)]
        return node

    def visit_Constant(self, node):
        text = node.value
        if not isinstance(text, str) or node in self.hidden | self.asked or text not in self.words:
            return node
        asks = node in self.told or _SENTENCE.search(text)
        return _asked("_asks_translated", node, [node]) if asks else node


class _Loader(SourceFileLoader):
    """Loads a module whose sentences ask for another language; its byte code is not kept."""

    words = None

    def get_code(self, fullname):
        path = self.get_filename(fullname)
        tree = ast.parse(self.get_data(path), path)
        shows = fullname.split(".")[1] in ("course", "coursekit", "app")
        _Asking(self.words, tree, shows).visit(tree)
        at = 0
        while at < len(tree.body) and (
            (isinstance(tree.body[at], ast.Expr) and isinstance(tree.body[at].value, ast.Constant))
            or (isinstance(tree.body[at], ast.ImportFrom) and tree.body[at].module == "__future__")
        ):
            at += 1
        names = [ast.alias(name, alias) for alias, name in _ASKED.items()]
        asks = ast.ImportFrom(__name__.replace("rewording", "language"), names, 0)
        tree.body.insert(at, asks)
        return compile(ast.fix_missing_locations(tree), path, "exec", dont_inherit=True)


class _Finder(MetaPathFinder):
    """Finds the modules of the kit for _Loader."""

    def find_spec(self, fullname, path, target=None):
        if fullname.partition(".")[0] != __package__.partition(".")[0]:
            return None
        spec = PathFinder.find_spec(fullname, path)
        if spec and isinstance(spec.loader, SourceFileLoader):
            spec.loader = _Loader(fullname, spec.origin)
        return spec


def reword(words, functions):
    """Have all modules of the kit that are loaded from now on ask for these words, and the cells
    of a notebook, if this is one. functions: of language.py by name.
    """
    _Loader.words = words
    sys.meta_path.insert(0, _Finder())
    notebook = sys.modules.get("IPython")
    shell = notebook and notebook.get_ipython()
    if shell:
        shell.user_ns |= {alias: functions[name] for alias, name in _ASKED.items()}
        shell.ast_transformers.append(_Cells(words))


class _Cells:
    """What a notebook asks before it runs a cell."""

    def __init__(self, words):
        self.words = words

    def visit(self, tree):
        return ast.fix_missing_locations(_Asking(self.words, tree, True).visit(tree))
