// Runs steelthermo/app/site/bytecode.py in the runtime itself: node compile_packages.mjs RUNTIME MODULE
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const [runtime, module] = process.argv.slice(2);
const { loadPyodide } = createRequire(import.meta.url)(`${runtime}/pyodide.js`);
const python = await loadPyodide({ indexURL: `${runtime}/` });
python.FS.mkdir("/runtime");
python.FS.mount(python.FS.filesystems.NODEFS, { root: runtime }, "/runtime");
python.runPython("import warnings; warnings.simplefilter('ignore')");
// Matplotlib keeps a list of its fonts, and reads all of them at each start where the list is of another edition
await python.loadPackage("matplotlib", { messageCallback: () => {} });
python.runPython(`
from pathlib import Path
from matplotlib import font_manager
known = {"matplotlib/fontlist.json": Path(font_manager.__file__).with_name("fontlist.json").read_text()}
`);
python.runPython(readFileSync(module, "utf8") + "\ncompile_packages('/runtime', known)\n");
