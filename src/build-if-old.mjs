// Builds before a start where the built files are missing or older than a source.
import { existsSync, readdirSync, statSync } from 'node:fs'

const built = 'dist/main.js'
const newest = readdirSync('src', { recursive: true })
  .map((path) => statSync(`src/${path}`).mtimeMs)
  .reduce((a, b) => Math.max(a, b), 0)
if (!existsSync(built) || statSync(built).mtimeMs < newest) {
  process.stdout.write('Building; this takes a few seconds.\n')
  await import('./build.mjs')
}
