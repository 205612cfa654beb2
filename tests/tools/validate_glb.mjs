// Khronos' own validator on one GLB file: node validate_glb.mjs FILE. Prints its report as one line of JSON; exit status 0
// only when it found nothing at all, not even a hint.
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';

const require = createRequire(import.meta.url);
let validator;
try {
  validator = require('gltf-validator');
} catch {
  console.error('gltf-validator is missing: run ./setup.sh');
  process.exit(3);
}

const [file] = process.argv.slice(2);
if (!file) {
  console.error('usage: node validate_glb.mjs FILE');
  process.exit(2);
}

const report = await validator.validateBytes(new Uint8Array(readFileSync(file)), { uri: file, format: 'glb' });
const { numErrors, numWarnings, numInfos, numHints, messages } = report.issues;
const { generator, version, drawCallCount, totalVertexCount, totalTriangleCount, materialCount } = report.info;
console.log(JSON.stringify({
  numErrors, numWarnings, numInfos, numHints, messages,
  generator, version, drawCallCount, totalVertexCount, totalTriangleCount, materialCount,
}));
process.exit(numErrors + numWarnings + numInfos + numHints === 0 ? 0 : 1);
