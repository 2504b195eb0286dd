// Works a visit in a journal in the Python of a web page and prints the sheet as one line of JSON.
//
//   node visit.mjs SOURCE_FOLDER SITE_PACKAGES
import { readFileSync, readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { loadPyodide } from "pyodide";

const here = dirname(fileURLToPath(import.meta.url));
const [source, site] = process.argv.slice(2);

function copy(python, from, to) {
  python.FS.mkdirTree(to);
  for (const entry of readdirSync(from, { withFileTypes: true })) {
    const [one, other] = [join(from, entry.name), `${to}/${entry.name}`];
    if (entry.isDirectory()) {
      if (!["__pycache__", "static", "testing"].includes(entry.name)) copy(python, one, other);
    } else if (/\.(py|toml|json)$/.test(entry.name)) {
      python.FS.writeFile(other, new Uint8Array(readFileSync(one))); // a Buffer is refused
    }
  }
}

try {
  const python = await loadPyodide();
  copy(python, source, "/program/fluewright");
  copy(python, join(site, "sqlalchemy"), "/program/sqlalchemy");
  for (const file of [join(site, "typing_extensions.py"), join(here, "worked.py")])
    python.FS.writeFile(`/program/${file.split("/").pop()}`, new Uint8Array(readFileSync(file)));
  console.log(python.runPython(`
import sys
sys.path.insert(0, "/program")
import worked
worked.answer()
`));
} catch (error) {
  console.error(String(error.message ?? error).slice(-4000));
  process.exit(1);
}
