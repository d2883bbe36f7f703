// Builds before a start where the built files are missing or older than a source.
import { spawnSync } from 'node:child_process'
import { existsSync, readdirSync, statSync, utimesSync } from 'node:fs'

const built = 'dist/main.js'
const newest = readdirSync('src', { recursive: true })
  .map((path) => statSync(`src/${path}`).mtimeMs)
  .reduce((a, b) => Math.max(a, b), 0)
if (!existsSync(built) || statSync(built).mtimeMs < newest) {
  process.stdout.write('Building; this takes a few seconds.\n')
  const tsc = spawnSync('npx', ['--no-install', 'tsc', '-p', 'tsconfig.build.json'], { stdio: 'inherit' })
  if (tsc.status !== 0) process.exit(tsc.status ?? 1)
  // What came out as it was is not written again.
  utimesSync(built, new Date(), new Date())
}
