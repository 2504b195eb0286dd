// Runs the formulas in the Python of a web page and prints what they answer as one line of JSON.
//
//   node run.mjs SOURCE_FOLDER DOORWAYS_FILE REQUEST.json
import { readFileSync, readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { loadPyodide } from "pyodide";

const here = dirname(fileURLToPath(import.meta.url));
const [source, doorways, request] = process.argv.slice(2);

function copy(python, from, to) {
  python.FS.mkdirTree(to);
  for (const entry of readdirSync(from, { withFileTypes: true })) {
    const [one, other] = [join(from, entry.name), `${to}/${entry.name}`];
    if (entry.isDirectory()) {
      if (entry.name !== "__pycache__" && entry.name !== "static") copy(python, one, other);
    } else if (/\.(py|toml)$/.test(entry.name)) {
      python.FS.writeFile(other, new Uint8Array(readFileSync(one))); // a Buffer is refused
    }
  }
}

try {
  const python = await loadPyodide();
  copy(python, source, "/program/fluewright");
  python.FS.writeFile("/program/doorways.py", new Uint8Array(readFileSync(doorways)));
  python.FS.writeFile("/program/inside.py", new Uint8Array(readFileSync(join(here, "inside.py"))));
  python.FS.writeFile("/program/request.json", new Uint8Array(readFileSync(request)));
  const answer = python.runPython(`
import sys
sys.path.insert(0, "/program")
import inside
inside.answer("/program/request.json")
`);
  console.log(answer);
} catch (error) {
  // Thrown on, it would print the interpreter's source, a line of a megabyte.
  console.error(String(error.message ?? error).slice(-4000));
  process.exit(1);
}
