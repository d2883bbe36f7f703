// Builds what `npm start` runs: each program in one file and what several share in files beside it, since reading some 900
// small ones took half as long again. Types are checked by `npm run types`, not here.
import { readdirSync, rmSync } from 'node:fs'
import { basename } from 'node:path'
import { build } from 'esbuild'

const programs = ['main', 'cluster', 'make-demo', 'reset-link', 'end-sessions', 'back-up', 'restore']
// What is made in a thread beside: its door, and the modules that it is asked to read.
const beside = [
  'web/aside',
  'web/aside-worker',
  'comparison/table-made.page',
  'comparison/pictures/picture-figures.page',
  'comparison/rows/figures-csv',
  'planning/own-spreads',
]
const { metafile } = await build({
  entryPoints: [...programs, ...beside].map((name) => `src/${name}.ts`),
  entryNames: '[name]',
  outdir: 'dist',
  bundle: true,
  splitting: true,
  packages: 'external',
  platform: 'node',
  format: 'esm',
  target: 'node20.19',
  sourcemap: true,
  metafile: true,
  logLevel: 'warning',
})
// What an earlier build left and this one does not need.
const made = new Set(Object.keys(metafile.outputs).map((path) => basename(path)))
for (const name of readdirSync('dist')) if (!made.has(name)) rmSync(`dist/${name}`, { recursive: true })
