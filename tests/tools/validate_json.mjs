// A JSON Schema validator that is not ours: node validate_json.mjs SCHEMA FILE… (FILE: YAML or JSON). Prints a line a file,
// "valid FILE" or "invalid FILE: why"; exit status 0 when it could judge all of them.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
let Ajv, parse;
try {
  Ajv = require('ajv/dist/2020');
  ({ parse } = require('yaml'));
} catch {
  console.error('ajv or yaml is missing: run ./setup.sh');
  process.exit(3);
}

const [schema, ...files] = process.argv.slice(2);
if (!schema || files.length === 0) {
  console.error('usage: node validate_json.mjs SCHEMA FILE...');
  process.exit(2);
}
// Strict, so that a misspelt keyword in the schema itself is an error; `required` beside `oneOf` is meant.
const ajv = new Ajv({ strict: true, strictRequired: false, strictTypes: false, allErrors: true });
const validate = ajv.compile(JSON.parse(readFileSync(schema, 'utf8')));
for (const file of files) {
  let document;
  try {
    document = parse(readFileSync(file, 'utf8'));
  } catch (e) {
    console.log(`invalid ${file}: not YAML: ${String(e.message).split('\n')[0]}`);
    continue;
  }
  if (validate(document)) {
    console.log(`valid ${file}`);
  } else {
    console.log(`invalid ${file}: ${validate.errors.map((e) => `${e.instancePath} ${e.message}`).join('; ')}`);
  }
}
