import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { breachesOf, type SourceFile } from './import-rules.ts'

const sources: SourceFile[] = readdirSync('src', { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.ts'))
  .sort()
  .map((path) => ({ path: `src/${path}`, text: readFileSync(`src/${path}`, 'utf8') }))

describe('the rules see a planted breach', () => {
  it.each([
    ['src/statistics/mean.ts', "import { gardens } from '../gardens/rows.ts'"],
    ['src/lookups/nth.ts', "import { meanOf } from '../statistics/moments.ts'"],
    ['src/comparison/totals/measures.ts', "import { sql } from 'drizzle-orm'"],
    ['src/gardens/garden.page.ts', "import { bedsOf } from './beds.queries.ts'"],
    ['src/diary/week.form.ts', "import fastify from 'fastify'"],
    ['src/gardens/ledger.ts', "import type { Week } from '../diary/week.ts'"],
    ['src/comparison/totals/hours.ts', "import type { Finding } from '../findings/findings.ts'"],
    ['src/comparison/rows/rows.page.ts', "import { asked } from '../compare.form.ts'"],
    ['src/soil/potash.ts', "import { patch } from '../notes/patch.ts'"],
    ['src/diary/week.table.ts', "import {\n  z,\n} from 'zod'"],
  ])('%s: %s', (path, text) => {
    expect(breachesOf([{ path, text }])).toHaveLength(1)
  })

  it('and lets what is allowed pass', () => {
    const text = "import { sql } from 'drizzle-orm'\nimport { weekOf } from '../quantities/iso-week.ts'"
    expect(breachesOf([{ path: 'src/diary/week.queries.ts', text }])).toEqual([])
  })
})

describe('the house', () => {
  it('has sources to look at', () => {
    expect(sources.length).toBeGreaterThan(20)
  })

  it('is imported downwards only, each kind of file touching its own outside world', () => {
    expect(breachesOf(sources)).toEqual([])
  })

  it('reads the environment in settings alone', () => {
    const readers = sources.filter((file) => /process\.env/.test(file.text)).map((file) => file.path)
    expect(readers.filter((path) => path !== 'src/settings.ts')).toEqual([])
  })

  it('keeps statistics and pages free of clock and chance', () => {
    const pure = sources.filter((file) =>
      /^src\/(statistics|quantities|drawing|comparison)\/[^.]+(\.page)?\.ts$/.test(file.path),
    )
    const unsteady = pure
      .filter((file) => /Math\.random|Date\.now|new Date\(\)/.test(file.text))
      .map((file) => file.path)
    expect(unsteady).toEqual([])
  })

  it('keeps files to one subject', () => {
    const long = sources.filter(
      (file) => !/table\.ts$|src\/words\//.test(file.path) && file.text.split('\n').length > 300,
    )
    expect(long.map((file) => file.path)).toEqual([])
  })

  it('gives each file of the comparison a room, unless it answers or reads a request', () => {
    const roomless = sources.filter((file) => /^src\/comparison\/[^/]+$/.test(file.path))
    expect(roomless.filter((file) => !/\.(routes|form|page)\.ts$/.test(file.path))).toEqual([])
  })

  it('has no drawer for odds and ends', () => {
    const odd = sources.filter((file) => /(^|\/)(utils?|helpers?|misc|common|types|index)(\.ts|\/)/.test(file.path))
    expect(odd.map((file) => file.path)).toEqual([])
  })
})
