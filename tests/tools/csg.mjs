// A cut of a mesh judged by a program that no one here wrote: node csg.mjs WHOLE CUT OUTLINE. The meshes as OBJ, the
// outline as lines "x y". Prints one line of JSON: what the library says of both meshes, the volumes (mm³) of the whole
// cut by the outline drawn out along Z, of our cut, and of what only one of them holds.
import { readFileSync } from 'node:fs';

let Module;
try {
  Module = (await import('manifold-3d')).default;
} catch {
  console.error('manifold-3d is missing: run ./setup.sh');
  process.exit(3);
}

const [wholeFile, cutFile, outlineFile] = process.argv.slice(2);
if (!outlineFile) {
  console.error('usage: node csg.mjs WHOLE CUT OUTLINE');
  process.exit(2);
}

const wasm = await Module();
wasm.setup();

function manifold(file) {
  const vertices = [], triangles = [];
  for (const line of readFileSync(file, 'utf8').split('\n')) {
    const [kind, ...numbers] = line.split(' ');
    if (kind === 'v') vertices.push(...numbers.map(Number));
    if (kind === 'f') triangles.push(...numbers.map((n) => n - 1));
  }
  return wasm.Manifold.ofMesh(
    new wasm.Mesh({ numProp: 3, vertProperties: Float32Array.from(vertices), triVerts: Uint32Array.from(triangles) }));
}

const whole = manifold(wholeFile);
const cut = manifold(cutFile);
const outline = readFileSync(outlineFile, 'utf8').trim().split('\n').map((line) => line.split(' ').map(Number));
const { min, max } = whole.boundingBox();
const prism = new wasm.CrossSection([outline], 'Positive').extrude(max[2] - min[2] + 2).translate([0, 0, min[2] - 1]);
const expected = whole.intersect(prism);
console.log(JSON.stringify({
  whole: whole.status(),
  cut: cut.status(),
  whole_volume: whole.volume(),
  expected_volume: expected.volume(),
  cut_volume: cut.volume(),
  missing: expected.subtract(cut).volume(),
  surplus: cut.subtract(expected).volume(),
}));
