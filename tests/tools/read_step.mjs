// One STEP file read by a program that no one here wrote: node read_step.mjs FILE. Prints what it found as one line of
// JSON: names, colours (as the reader gives them), B-rep faces, and volume and box (mm) of its mesh.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
let importer;
try {
  importer = require('occt-import-js');
} catch {
  console.error('occt-import-js is missing: run ./setup.sh');
  process.exit(3);
}

const [file] = process.argv.slice(2);
if (!file) {
  console.error('usage: node read_step.mjs FILE');
  process.exit(2);
}

function measure({ attributes, index }) {
  const at = attributes.position.array;
  const box = { least: [Infinity, Infinity, Infinity], most: [-Infinity, -Infinity, -Infinity] };
  for (let i = 0; i < at.length; ++i) {
    box.least[i % 3] = Math.min(box.least[i % 3], at[i]);
    box.most[i % 3] = Math.max(box.most[i % 3], at[i]);
  }
  let volume = 0;
  for (let t = 0; t < index.array.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => at.slice(3 * index.array[t + k], 3 * index.array[t + k] + 3));
    volume += (a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0])) / 6;
  }
  return { volume, ...box };
}

const reader = await importer();
const result = reader.ReadStepFile(new Uint8Array(readFileSync(file)), {
  linearUnit: 'millimeter', linearDeflectionType: 'absolute_value', linearDeflection: 0.03, angularDeflection: 0.5,
});
const meshes = result.success ? result.meshes : [];
console.log(JSON.stringify({
  success: result.success,
  root: result.root?.name,
  meshes: meshes.map((m) => ({ name: m.name, color: m.color ?? null, faces: m.brep_faces.length, ...measure(m) })),
}));
process.exit(result.success && meshes.length > 0 ? 0 : 1);
