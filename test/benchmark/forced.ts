// What forcing each commit to the disk costs the built-in database: 200 commits with and without it, in turns, beside what
// the disk takes for one forced write of the same size by itself. Run by `npm run benchmark:forced`.
import { closeSync, fsyncSync, mkdtempSync, openSync, rmSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { PGlite } from '@electric-sql/pglite'
import { forcing } from '../../src/db/forced-files.ts'

const commits = 200
const rounds = 3
const root = mkdtempSync(join(process.env.BENCHMARK_FOLDER ?? tmpdir(), 'evenground-forced-'))

const median = (ms: readonly number[]) => [...ms].sort((a, b) => a - b)[Math.floor(ms.length / 2)] ?? Number.NaN

async function timed(count: number, work: (i: number) => unknown): Promise<number> {
  const ms: number[] = []
  for (let i = 0; i < count; i++) {
    const from = performance.now()
    await work(i)
    ms.push(performance.now() - from)
  }
  return median(ms)
}

const engines = {
  left: await PGlite.create({ dataDir: join(root, 'left') }),
  forced: await PGlite.create(forcing(join(root, 'forced'))),
}
for (const engine of Object.values(engines)) await engine.exec('create table weights (grams integer, said text)')
for (let round = 1; round <= rounds; round++) {
  for (const [name, engine] of Object.entries(engines)) {
    const insert = (i: number) => engine.query('insert into weights values ($1, $2)', [i, 'x'.repeat(200)])
    process.stdout.write(`${name}: ${(await timed(commits, insert)).toFixed(3)} ms a commit, round ${round}\n`)
  }
}
const file = openSync(join(root, 'file'), 'w')
const alone = await timed(commits, () => {
  writeSync(file, Buffer.alloc(8192), 0, 8192, 0)
  fsyncSync(file)
})
closeSync(file)
process.stdout.write(`8 kB written and forced by itself: ${alone.toFixed(3)} ms\n`)
for (const engine of Object.values(engines)) await engine.close()
rmSync(root, { recursive: true, force: true })
