import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { figureTablesIn } from '../../src/reports/figure-tables.ts'
import { rowTableNames } from '../../src/reports/row-tables.ts'
import { aDay } from '../support/calendar.ts'
import { oddTrial, type Shape } from './odd-trials.ts'
import { countAgain, hasR, reportOn, saveReport } from './recompute-folder.ts'

/** Made-up trials, whose reports are counted again from their rows alone. */
const folder = mkdtempSync(join(tmpdir(), 'evenground-recompute-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

it('a report that was frozen before its figures were kept as tables gives those that it holds, and counts none from today', () => {
  const { contents } = reportOn(oddTrial({ seed: 1, methods: 2, seasons: 2, laid: ['A', 'B'] }), null)
  const { tables: _since, ...earlier } = contents
  expect([...figureTablesIn(earlier).keys()]).toEqual(['methods', 'matched-crops', 'totals', 'findings'])
  expect([...figureTablesIn(contents).keys()]).toContain('labour')
  expect(figureTablesIn(earlier).get('findings')).toEqual(figureTablesIn(contents).get('findings'))
  expect([...figureTablesIn({ ...earlier, page: {} }).keys()]).toEqual(['methods', 'matched-crops', 'totals'])
})

const odd: Record<string, Omit<Shape, 'seed'>> = {
  'one garden empty, half of it failed, open weeks, unpriced inputs, two crops on a bed': {
    ...{ methods: 3, seasons: 3, laid: ['AA', 'BB', 'C', '..'], bare: 'C' },
    ...{ failing: 0.3, open: 0.05, standing: 0.03, uniformYear: true },
  },
  'few open weeks': { methods: 2, seasons: 3, laid: ['AA', 'BB'], open: 0.02, uniformYear: true },
  'crops sown more than once in a season': {
    ...{ methods: 2, seasons: 3, laid: ['AAA', 'BBB'], failing: 0.1, uniformYear: true },
    crops: ['carrot', 'carrot', 'potato', 'carrot', 'chard'],
  },
  'crops sown more than once in split gardens': {
    ...{ methods: 2, seasons: 2, laid: ['AB', 'BA', 'AB'], crops: ['carrot', 'potato', 'carrot'] },
  },
  'ground that comes and goes within its seasons': {
    ...{ methods: 2, seasons: 3, laid: ['AAAA', 'BBBB', 'ABAB'], moving: true, uniformYear: true },
  },
  'few open weeks on ground that comes and goes': {
    ...{ methods: 2, seasons: 3, laid: ['AB', 'BA', 'AB'], moving: true, open: 0.02, crops: ['carrot'] },
  },
  'other crops in every season': { methods: 2, seasons: 3, laid: ['AA', 'BB'], changing: true, relaid: true },
  'what stands over seasons and does not bear yet, with few open weeks': {
    ...{ methods: 2, seasons: 3, laid: ['AAA', 'BBB'], establishing: 0.3, open: 0.02 },
  },
  'nothing at all came off it': { methods: 2, seasons: 2, laid: ['A', 'B'], failing: 1 },
  'gardens within sites': { methods: 2, seasons: 2, laid: ['AA', 'BB', 'A', 'B', 'AA', 'B'], sites: true },
  'split gardens': { methods: 3, seasons: 2, laid: ['ABC', 'ABC', 'CBA'], crops: ['carrot', 'potato'] },
  'few open weeks in split gardens': {
    methods: 2,
    seasons: 3,
    laid: ['AB', 'BA', 'AB'],
    open: 0.02,
    crops: ['carrot'],
  },
  'few open weeks in gardens of one method': {
    ...{ methods: 2, seasons: 3, laid: ['A', 'A', 'B', 'B'], open: 0.02, crops: ['carrot'] },
  },
  'other crops in every season of split gardens': {
    ...{ methods: 2, seasons: 3, laid: ['AB', 'BA', 'AB'], changing: true, crops: ['carrot', 'potato'] },
  },
  'blocks of beds': { methods: 2, seasons: 3, laid: ['ABBAAB'], blocks: true, crops: ['carrot'] },
  'ground that took turns': {
    methods: 2,
    seasons: 4,
    laid: ['A', 'B', 'AA'],
    turned: ['B', 'A', 'BB'],
    crops: ['carrot'],
  },
}

describe.skipIf(!hasR)('with R at hand (Rscript is not on every machine)', () => {
  it.each(Object.entries(odd))(
    'whoever runs the script on the rows of a trial with %s finds every figure of its report',
    async (name, shape) => {
      for (const season of name.includes('open weeks') ? [null, 's1'] : [null]) {
        const own = join(folder, newId())
        const tables = saveReport(own, reportOn(oddTrial({ ...shape, seed: 3 }), season))
        const { code, counted, stderr } = await countAgain(join(own, 'recompute.R'), own)
        expect([code, stderr]).toEqual([0, stderr])
        const figures = [...tables].map(([table, rows]) => [table, rows.length - 1] as const)
        expect([...counted].filter(([, count]) => count > 0)).toEqual(figures.filter(([, count]) => count > 0))
      }
    },
    240_000,
  )

  it('counts as a question fixed it: another reference, other rules, wider intervals', async () => {
    const rules = {
      weights: 'all',
      mix: 'equal parts',
      outsideLosses: 'set left out',
      crops: ['carrot', 'potato'],
    } as const
    const question = {
      ...{ question: 'Which gives more?', referenceId: 'B', primaryMeasure: 'matched yield', seasonsToLookAt: 2 },
      ...{ sentenceIfSeen: '', sentenceIfNotSeen: '', rules, lockedOn: aDay('2020-01-01'), marginPercent: 10 },
      pairs: [{ methodA: 'A', methodB: 'B' }],
    } as const
    const own = join(folder, newId())
    const trial = oddTrial({ seed: 8, methods: 3, seasons: 3, laid: ['AA', 'BB', 'CC'] })
    saveReport(own, reportOn(trial, null, question))
    expect(readFileSync(join(own, 'recompute.R'), 'utf8')).toMatch(
      /level_of <- c\("A", "C"\)\nlevel_values <- c\(0.95, 0.975\)/,
    )
    expect(await countAgain(join(own, 'recompute.R'), own)).toMatchObject({ code: 0 })
  }, 240_000)

  it('says which tables are unlike where one row is changed, or one figure', async () => {
    const own = join(folder, newId())
    const trial = oddTrial({ seed: 5, methods: 2, seasons: 3, laid: ['AA', 'BB'] })
    saveReport(own, reportOn(trial, null))
    const changed = (file: string, from: RegExp, to: (found: string) => string) => {
      const before = readFileSync(join(own, file), 'utf8')
      const after = before.replace(from, to)
      expect(after).not.toBe(before)
      writeFileSync(join(own, file), after)
      return () => writeFileSync(join(own, file), before)
    }
    const unlike = async () => {
      const { code, apart } = await countAgain(join(own, 'recompute.R'), own)
      return [code, apart]
    }
    expect(await unlike()).toEqual([0, []])
    const restoreGrams = changed('harvests.csv', /(?<=-\d\d,)\d+(?=,)/, (grams) => String(Number(grams) + 10))
    const [code, tables] = await unlike()
    expect(code).toBe(1)
    expect(tables).toEqual(expect.arrayContaining(['methods', 'matched-crops', 'totals', 'seasons', 'losses']))
    restoreGrams()
    const restoreLoss = changed('losses.csv', /slugs/, () => 'voles')
    expect(await unlike()).toEqual([1, ['losses']])
    restoreLoss()
    changed('figures-labour.csv', /(?<=h\/m2,)\d/, (digit) => String((Number(digit) + 1) % 10))
    expect(await unlike()).toEqual([1, ['labour']])
  }, 240_000)

  it('counts the two tables of a report that was frozen with fewer columns in its rows', async () => {
    const own = join(folder, newId())
    const { contents, rows } = reportOn(oddTrial({ seed: 6, methods: 2, seasons: 2, laid: ['A', 'B'] }), null)
    const { tables: _since, ...earlier } = contents
    const columns = { seasons: 5, methods: 2, gardens: 3, beds: 3, assignments: 6, plantings: 9, harvests: 6 }
    const widths: Readonly<Record<string, number>> = { ...columns, losses: 5, labour: 9, spreadings: 4, closings: 3 }
    const narrow = rowTableNames.map((name) => [name, rows[name].map((row) => row.slice(0, widths[name] ?? 0))])
    saveReport(own, { contents: earlier, rows: Object.fromEntries(narrow) })
    const { code, counted, stderr } = await countAgain(join(own, 'recompute.R'), own)
    expect([code, stderr]).toEqual([0, stderr])
    expect([...counted.keys()]).toEqual(['methods', 'matched-crops'])
  }, 240_000)
})
