import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { blockedAnova } from '../../src/statistics/blocked-anova.ts'
import { fitMixedModel, type MixedModelInput } from '../../src/statistics/fit-mixed-model.ts'
import { type LinearModelInput, linearModel } from '../../src/statistics/linear-model.ts'
import { meanOf } from '../../src/statistics/moments.ts'
import { poolSeasons } from '../../src/statistics/pool-seasons.ts'
import { tukeyHsd } from '../../src/statistics/tukey-hsd.ts'
import { answered, close, table } from './close.ts'

// Expected figures: published/further/further.R on R; primary sources: published/further/sources.md.
type Figures = { readonly [name: string]: number | null }
type Rows = { readonly [name: string]: Figures }
interface Linear {
  readonly table: Rows
  readonly coefficients: Rows
}
interface Mixed {
  readonly variances: Figures
  readonly criterion: number
  readonly singular: boolean
  readonly satterthwaite: Rows
  readonly kenwardRoger: Rows | null
}
interface Further {
  readonly genotype: { readonly [name in 'litterFirst' | 'motherFirst' | 'interaction']: Linear }
  readonly chickwts: { readonly model: Linear; readonly tukey: Rows; readonly cv: number }
  readonly orchardsprays: {
    readonly [name in 'square' | 'blocks']: Linear
  } & { readonly blockDifferences: Figures; readonly tukey: Rows; readonly mixed: Mixed }
  readonly detergent: { readonly intra: Linear; readonly mixed: Mixed }
  readonly alfalfa: {
    readonly [name in 'block' | 'main' | 'sub']: Rows
  } & { readonly mainDifferences: Figures; readonly subDifferences: Figures; readonly mixed: Mixed }
  readonly machines: { readonly whole: Mixed; readonly uneven: Mixed }
  readonly penicillin: { readonly whole: Mixed; readonly samples: Mixed }
  readonly pastes: Mixed
  readonly cake: { readonly factor: Mixed; readonly slope: Mixed }
  readonly dyestuff2: Mixed
  readonly raudenbush1985: Rows
  readonly bangertdrowns2004: Rows
  readonly normand1999: Rows
}

const further = JSON.parse(readFileSync('test/statistics/published/further/further.json', 'utf8')) as Further

type Line = Readonly<Record<string, string>>
const rowsOf = (name: string) => table(`further/${name}.csv`)
const numbers = (rows: readonly Line[], name: string) => rows.map((row) => Number(row[name]))
const labels = (rows: readonly Line[], name: string) => rows.map((row) => row[name] ?? '')
const joined = (rows: readonly Line[], ...names: string[]) =>
  rows.map((row) => names.map((name) => row[name]).join(' '))
const without = <T>(rows: readonly T[], gone: readonly number[]) => rows.filter((_, i) => !gone.includes(i + 1))

/** R writes factor and level without a sign between them. */
const nameInR = (name: string) => (name === 'intercept' ? '(Intercept)' : name.replaceAll('=', ''))

function alike(found: object, expected: Figures | undefined, relative: number): void {
  if (!expected) throw new Error('R has no such row')
  const shared = Object.entries(expected).filter(([key]) => key in found)
  expect(shared.length).toBeGreaterThan(1)
  for (const [key, value] of shared) {
    const own = (found as Figures)[key]
    if (value === null || own === null || own === undefined) expect(own).toBe(value)
    else close(own, value, relative)
  }
}

function alikeLinear(input: LinearModelInput, expected: Linear): void {
  const found = answered(linearModel(input))
  expect(found.table).toHaveLength(Object.keys(expected.table).length)
  expect(found.coefficients).toHaveLength(Object.keys(expected.coefficients).length)
  for (const row of found.table) alike(row, expected.table[row.source === 'residual' ? 'Residuals' : row.source], 1e-6)
  for (const one of found.coefficients) alike(one, expected.coefficients[nameInR(one.name)], 1e-6)
}

function alikeMixed(input: MixedModelInput, expected: Mixed): void {
  const found = answered(fitMixedModel(input))
  expect(found.singular).toBe(expected.singular)
  close(found.remlCriterion, expected.criterion, 1e-8)
  expect(Object.keys(found.varianceComponents).sort()).toEqual(Object.keys(expected.variances).sort())
  for (const [name, value] of Object.entries(expected.variances)) {
    if (value === 0) expect(found.varianceComponents[name]).toBe(0)
    else close(found.varianceComponents[name] ?? 0, value ?? 0, 1e-4)
  }
  const compare = (coefficients: typeof found.coefficients, rows: Rows) => {
    expect(coefficients).toHaveLength(Object.keys(rows).length)
    for (const { p, ...one } of coefficients) {
      alike(one, rows[nameInR(one.name)], 1e-4)
      // A far tail multiplies what little t and df differ by: its logarithm is compared.
      close(Math.log(p), Math.log(rows[nameInR(one.name)]?.p ?? 0), 2e-4)
    }
  }
  compare(found.coefficients, expected.satterthwaite)
  if (expected.kenwardRoger)
    compare(answered(fitMixedModel({ ...input, df: 'kenward-roger' })).coefficients, expected.kenwardRoger)
}

/** R's pairs are named the second from the first; its studentised range is right to about 1e-6 at these degrees of freedom. */
function alikeTukey(y: readonly number[], by: readonly string[], error: { ms: number; df: number }, expected: Rows) {
  const groups = [...new Set(by)].map((name) => {
    const own = y.filter((_, i) => by[i] === name)
    return { name, mean: meanOf(own), n: own.length }
  })
  const found = answered(tukeyHsd(groups, { mse: error.ms, df: error.df }))
  expect(found.pairs).toHaveLength(Object.keys(expected).length)
  for (const pair of found.pairs) {
    const ours = expected[`${pair.b}-${pair.a}`]
    const theirs = ours ?? expected[`${pair.a}-${pair.b}`]
    const sign = ours ? 1 : -1
    close(pair.difference * sign, theirs?.difference ?? 0)
    close(sign > 0 ? pair.low : -pair.high, theirs?.low ?? 0, 1e-5)
    close(sign > 0 ? pair.high : -pair.low, theirs?.high ?? 0, 1e-5)
    expect(Math.abs(pair.p - (theirs?.p ?? 2))).toBeLessThan(1e-6)
  }
}

describe('an unbalanced two-way table: litters of rats by genotype of litter and mother, Bailey 1953', () => {
  const rows = rowsOf('genotype')
  const [y, Litter, Mother] = [numbers(rows, 'Wt'), labels(rows, 'Litter'), labels(rows, 'Mother')]

  it('what comes first takes what both could explain', () => {
    alikeLinear({ y, fixed: { Litter, Mother } }, further.genotype.litterFirst)
    alikeLinear({ y, fixed: { Mother, Litter } }, further.genotype.motherFirst)
  })

  it('with their interaction', () => {
    alikeLinear({ y, fixed: { Litter, Mother }, interactions: ['Litter:Mother'] }, further.genotype.interaction)
  })
})

it('unlike numbers: weights of chicks by feed, Biometrika 1948, with Kramer’s pairs', () => {
  const rows = rowsOf('chickwts')
  const [y, feed] = [numbers(rows, 'weight'), labels(rows, 'feed')]
  alikeLinear({ y, fixed: { feed } }, further.chickwts.model)
  const found = answered(blockedAnova(rows.map((row, i) => ({ value: y[i] ?? 0, treatment: row.feed ?? '' }))))
  close(found.cv ?? 0, further.chickwts.cv)
  expect(found.lsd).toBeNull()
  const error = found.table.find((row) => row.source === 'error')
  alikeTukey(y, feed, { ms: error?.ms ?? 0, df: error?.df ?? 0 }, further.chickwts.tukey)
})

describe('a Latin square: orchard sprays, Finney 1947', () => {
  const rows = rowsOf('orchardsprays')
  const [y, treatment] = [numbers(rows, 'decrease'), labels(rows, 'treatment')]
  const [rowpos, colpos] = [labels(rows, 'rowpos'), labels(rows, 'colpos')]
  const { square, blocks, blockDifferences, tukey, mixed } = further.orchardsprays

  it('rows and columns fixed, and pairs at their error', () => {
    alikeLinear({ y, fixed: { rowpos, colpos, treatment } }, square)
    const { residual } = answered(linearModel({ y, fixed: { rowpos, colpos, treatment } }))
    alikeTukey(y, treatment, residual, tukey)
  })

  it('rows as blocks, with the least difference', () => {
    const plots = rows.map((row, i) => ({
      ...{ value: y[i] ?? 0, treatment: row.treatment ?? '', block: row.rowpos ?? '' },
    }))
    const found = answered(blockedAnova(plots))
    const namesInR = { block: 'rowpos', treatment: 'treatment', error: 'Residuals' } as Record<string, string>
    for (const row of found.table) alike(row, blocks.table[namesInR[row.source] ?? ''], 1e-6)
    alike(found, blockDifferences, 1e-6)
  })

  it('rows and columns at random: the variance of rows ends small or at nothing, as R has it', () => {
    const reference = { treatment: treatment[0] ?? '' }
    alikeMixed({ y, fixed: { treatment }, random: { rowpos, colpos }, reference }, mixed)
  })
})

it('balanced incomplete blocks: washed plates, Scheffé 1959, within blocks and with what blocks tell', () => {
  const rows = rowsOf('detergent').filter((row) => row.plates !== 'NA')
  const [y, detergent, block] = [numbers(rows, 'plates'), labels(rows, 'detergent'), labels(rows, 'block')]
  expect(y).toHaveLength(30)
  alikeLinear({ y, fixed: { block, detergent } }, further.detergent.intra)
  alikeMixed({ y, fixed: { detergent }, random: { block } }, further.detergent.mixed)
})

describe('a split plot: alfalfa, varieties cut at dates, Snedecor & Cochran 1980', () => {
  const rows = rowsOf('alfalfa')
  const { block, main, sub, mainDifferences, subDifferences, mixed } = further.alfalfa

  it('by strata, with differences of both sizes of plot', () => {
    const found = answered(
      blockedAnova(
        rows.map((row) => ({
          ...{ value: Number(row.Yield), block: row.Block ?? '' },
          ...{ treatment: row.Variety ?? '', subplot: row.Date ?? '' },
        })),
      ),
    )
    const expected: Record<string, Figures | undefined> = {
      ...{ block: block.Residuals, treatment: main.Variety, mainError: main.Residuals },
      ...{ subplot: sub.Date, interaction: sub['Variety:Date'], error: sub.Residuals },
    }
    expect(found.table).toHaveLength(6)
    for (const row of found.table) alike(row, expected[row.source], 1e-6)
    alike(found, mainDifferences, 1e-6)
    alike(found.subplots ?? {}, subDifferences, 1e-6)
  })

  it('as a mixed model', () => {
    const fixed = { Variety: labels(rows, 'Variety'), Date: labels(rows, 'Date') }
    const random = { 'Block:Variety': joined(rows, 'Block', 'Variety'), Block: labels(rows, 'Block') }
    alikeMixed({ y: numbers(rows, 'Yield'), fixed, random }, mixed)
  })
})

describe('workers at random on machines: Milliken & Johnson 1992', () => {
  const input = (rows: readonly Line[]) => ({
    ...{ y: numbers(rows, 'score'), fixed: { Machine: labels(rows, 'Machine') } },
    random: { 'Worker:Machine': joined(rows, 'Worker', 'Machine'), Worker: labels(rows, 'Worker') },
  })
  const rows = rowsOf('machines')

  it('every reading', () => alikeMixed(input(rows), further.machines.whole))
  it('ten readings lost, after Pinheiro & Bates 2000', () => {
    alikeMixed(input(without(rows, [2, 3, 6, 8, 9, 12, 19, 20, 27, 33])), further.machines.uneven)
  })
})

describe('two crossed random factors: penicillin, Davies & Goldsmith 1972', () => {
  const rows = rowsOf('penicillin')

  it('plates and samples both at random', () => {
    const random = { plate: labels(rows, 'plate'), sample: labels(rows, 'sample') }
    alikeMixed({ y: numbers(rows, 'diameter'), fixed: {}, random }, further.penicillin.whole)
  })

  it('samples compared, fourteen readings lost', () => {
    const left = rows.filter((_, i) => i % 11 !== 0)
    const input = { y: numbers(left, 'diameter'), fixed: { sample: labels(left, 'sample') } }
    const reference = { sample: 'A' }
    alikeMixed({ ...input, random: { plate: labels(left, 'plate') }, reference }, further.penicillin.samples)
  })
})

it('nested random factors: casks within batches, Davies & Goldsmith 1972', () => {
  const rows = rowsOf('pastes')
  const random = { 'batch:cask': joined(rows, 'batch', 'cask'), batch: labels(rows, 'batch') }
  const input = { y: numbers(rows, 'strength'), fixed: {}, random }
  alikeMixed(input, further.pastes)
  // Balanced: the mean of ten batches has nine degrees of freedom, whatever the variances.
  close(answered(fitMixedModel(input)).coefficients[0]?.df ?? 0, 9, 1e-5)
})

describe('cakes: recipes in replicates, temperatures within, Cook 1938', () => {
  const rows = rowsOf('cake')
  const random = {
    ...{ 'recipe:replicate': joined(rows, 'recipe', 'replicate'), replicate: labels(rows, 'replicate') },
  }
  const [y, recipe] = [numbers(rows, 'angle'), labels(rows, 'recipe')]

  it('temperature as levels', () => {
    alikeMixed({ y, fixed: { recipe, temp: labels(rows, 'temp') }, random }, further.cake.factor)
  })
  it('temperature as a slope', () => {
    alikeMixed({ y, fixed: { recipe, t: numbers(rows, 'temp') }, random }, further.cake.slope)
  })
})

it('a variance that is nothing: dyestuff, Box & Tiao 1973', () => {
  const rows = rowsOf('dyestuff2')
  alikeMixed({ y: numbers(rows, 'Yield'), fixed: {}, random: { Batch: labels(rows, 'Batch') } }, further.dyestuff2)
})

describe('pooled effects, by three estimators of the variance between and three intervals', () => {
  const given = (name: string) => rowsOf(name).map((row) => ({ estimate: Number(row.yi), variance: Number(row.vi) }))
  const stays = rowsOf('normand1999').map((row) => {
    const [n1, n2, sd1, sd2] = ['n1i', 'n2i', 'sd1i', 'sd2i'].map((name) => Number(row[name])) as [
      number,
      number,
      number,
      number,
    ]
    return { estimate: Number(row.m1i) - Number(row.m2i), variance: (sd1 * sd1) / n1 + (sd2 * sd2) / n2 }
  })
  const inR = { z: 'z', HK: 'knha', mHK: 'adhoc' } as const

  it.each([
    ['Raudenbush 1984', given('raudenbush1985'), further.raudenbush1985],
    ['Bangert-Drowns, Hurley & Wilkinson 2004', given('bangertdrowns2004'), further.bangertdrowns2004],
    ['Normand 1999', stays, further.normand1999],
  ])('%s', (_name, effects, expected) => {
    for (const tau2 of ['REML', 'DL', 'PM'] as const) {
      for (const interval of ['z', 'HK', 'mHK'] as const) {
        const found = answered(poolSeasons(effects, { tau2, interval }))
        alike(found, expected[`${tau2} ${inR[interval]}`], tau2 === 'DL' ? 1e-6 : 1e-4)
        const { prediction } = found
        if (!('low' in prediction)) throw new Error('no prediction')
        alike(prediction, expected[`${tau2} prediction`], tau2 === 'DL' ? 1e-6 : 1e-4)
      }
    }
  })
})
