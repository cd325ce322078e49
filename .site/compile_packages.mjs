// Runs steelthermo/app/site/bytecode.py in the runtime itself: node compile_packages.mjs RUNTIME MODULE
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const [runtime, module] = process.argv.slice(2);
const { loadPyodide } = createRequire(import.meta.url)(`${runtime}/pyodide.js`);
const python = await loadPyodide({ indexURL: `${runtime}/` });
python.FS.mkdir("/runtime");
python.FS.mount(python.FS.filesystems.NODEFS, { root: runtime }, "/runtime");
python.runPython("import warnings; warnings.simplefilter('ignore')");
python.runPython(readFileSync(module, "utf8") + "\ncompile_packages('/runtime')\n");
