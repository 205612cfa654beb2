// Closed meshes held against each other by a CSG library (manifold-3d). Arguments: files of one mesh each: counts of
// vertices and triangles (uint32), then x y z (float32) and corners (uint32), little-endian. Prints JSON: for each its
// status, volume and number of parts; the volume shared by each pair whose boxes meet. With `--whole FILE` first: also
// what the others' union lacks of that mesh, and what it has beyond it.
import { readFileSync } from 'node:fs';
import Module from 'manifold-3d';

const wasm = await Module();
wasm.setup();
const { Manifold, Mesh } = wasm;

function read(path) {
  const bytes = readFileSync(path);
  const vertices = bytes.readUInt32LE(0), triangles = bytes.readUInt32LE(4);
  const at = bytes.buffer.slice(bytes.byteOffset + 8, bytes.byteOffset + bytes.length);
  const mesh = new Mesh({
    numProp: 3,
    vertProperties: new Float32Array(at, 0, 3 * vertices),
    triVerts: new Uint32Array(at, 12 * vertices, 3 * triangles),
  });
  return new Manifold(mesh);
}

const args = process.argv.slice(2);
const whole = args[0] === '--whole' ? read(args.splice(0, 2)[1]) : null;
const all = args.map(read);
const out = {
  objects: all.map((m) => ({ status: String(m.status()), volume: m.volume(), parts: m.decompose().length })),
  shared: [],
};
const meet = (a, b) => [0, 1, 2].every((k) => a.min[k] < b.max[k] && b.min[k] < a.max[k]);
const boxes = all.map((m) => m.boundingBox());
for (let i = 0; i < all.length; ++i) {
  for (let k = i + 1; k < all.length; ++k) {
    if (meet(boxes[i], boxes[k])) out.shared.push({ a: i, b: k, volume: all[i].intersect(all[k]).volume() });
  }
}
if (whole) {
  const union = Manifold.union(all);
  out.whole = whole.volume();
  out.lacking = whole.subtract(union).volume();
  out.beyond = union.subtract(whole).volume();
}
console.log(JSON.stringify(out));
