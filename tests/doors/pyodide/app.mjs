// Works a visit through the whole app in the Python of a web page and prints what it came to as one line of JSON.
//
//   node app.mjs SOURCE_FOLDER SITE_PACKAGES WHEEL...
import { readFileSync, readdirSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { loadPyodide } from "pyodide";

const here = dirname(fileURLToPath(import.meta.url));
const [source, site, ...wheels] = process.argv.slice(2);
// What the app stands on, as far as it is written in Python alone.
const PACKAGES = [
  "sqlalchemy", "fastapi", "starlette", "pydantic", "anyio", "idna", "jinja2", "markupsafe", "python_multipart",
  "annotated_doc", "annotated_types", "typing_inspection", "opentelemetry", "typing_extensions.py",
];

function copy(python, from, to) {
  if (!statSync(from).isDirectory()) {
    python.FS.writeFile(to, new Uint8Array(readFileSync(from))); // a Buffer is refused
    return;
  }
  python.FS.mkdirTree(to);
  for (const entry of readdirSync(from, { withFileTypes: true })) {
    const [one, other] = [join(from, entry.name), `${to}/${entry.name}`];
    if (entry.isDirectory()) {
      if (!["__pycache__", "testing"].includes(entry.name)) copy(python, one, other);
    } else if (/\.(py|toml|json|html|css|typed|woff2)$/.test(entry.name)) {
      copy(python, one, other);
    }
  }
}

try {
  const python = await loadPyodide();
  copy(python, source, "/program/fluewright");
  for (const name of PACKAGES) copy(python, join(site, name), `/program/${name}`);
  copy(python, join(here, "journey.py"), "/program/journey.py");
  for (const wheel of wheels) {
    python.unpackArchive(new Uint8Array(readFileSync(wheel)), "wheel", { extractDir: "/program" });
  }
  console.log(python.runPython(`
import sys
sys.path.insert(0, "/program")
import journey
journey.answer()
`));
} catch (error) {
  console.error(String(error.message ?? error).slice(-4000));
  process.exit(1);
}
