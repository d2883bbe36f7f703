import { describe, expect, it } from 'vitest'
import { blockedAnova } from '../../src/statistics/blocked-anova.ts'
import { linearModel } from '../../src/statistics/linear-model.ts'
import { meanOf } from '../../src/statistics/moments.ts'
import { tukeyHsd } from '../../src/statistics/tukey-hsd.ts'
import { answered, close, table } from './close.ts'

const rowOf = <T extends { source: string }>(rows: readonly T[], source: string): T => {
  const found = rows.find((row) => row.source === source)
  if (!found) throw new Error(`no row ${source}`)
  return found
}

describe('completely randomised: Dobson 1983, An Introduction to Statistical Modelling, table 7.1', () => {
  const rows = table('plantgrowth.csv').map((row) => ({ value: Number(row.weight), treatment: row.group ?? '' }))
  const found = answered(blockedAnova(rows))

  it('table, standard error, least difference, CV', () => {
    close(rowOf(found.table, 'treatment').ss, 3.76634)
    close(rowOf(found.table, 'error').ms, 0.388595925926)
    close(rowOf(found.table, 'treatment').f ?? 0, 4.84609, 2e-6)
    close(found.sed ?? 0, 0.278781608)
    close(found.lsd ?? 0, 0.572012612)
    close(found.cv ?? 0, 12.2880865)
  })

  it('Tukey, and letters that mean "not shown to differ"', () => {
    const groups = Object.entries(found.means).map(([name, mean]) => ({ name, mean, n: 10 }))
    const tukey = answered(tukeyHsd(groups, { mse: rowOf(found.table, 'error').ms, df: 27 }))
    const pair = tukey.pairs.find((one) => one.a === 'trt1' && one.b === 'trt2')
    close(pair?.low ?? 0, 0.173783949, 1e-5)
    close(pair?.p ?? 0, 0.012006424, 1e-5)
    expect(tukey.letters).toEqual({ trt1: 'a', ctrl: 'ab', trt2: 'b' })
  })
})

it('blocks: Immer, Hayes & Powers 1934, J Am Soc Agron 26:403, mean of two years', () => {
  const rows = table('mass-immer.csv').map((row) => ({
    ...{ value: (Number(row.Y1) + Number(row.Y2)) / 2, treatment: row.Var ?? '', block: row.Loc ?? '' },
  }))
  const found = answered(blockedAnova(rows))
  close(rowOf(found.table, 'block').ss, 10610.452)
  close(rowOf(found.table, 'treatment').f ?? 0, 5.98912, 2e-6)
  close(rowOf(found.table, 'treatment').p ?? 0, 0.0024526, 3e-5)
  close(found.lsd ?? 0, 12.6784395)
  close(found.cv ?? 0, 10.4138553)
  const groups = Object.entries(found.means).map(([name, mean]) => ({ name, mean, n: 6 }))
  const tukey = answered(tukeyHsd(groups, { mse: rowOf(found.table, 'error').ms, df: 20 }))
  expect(tukey.letters).toEqual({ S: 'a', M: 'a', V: 'a', P: 'ab', T: 'b' })
})

it('split plot: Yates 1935, JRSS Supplement 2:181', () => {
  const rows = table('mass-oats.csv').map((row) => ({
    ...{ value: Number(row.Y), block: row.B ?? '', treatment: row.V ?? '', subplot: row.N ?? '' },
  }))
  const found = answered(blockedAnova(rows))
  close(rowOf(found.table, 'block').ss, 15875.27778)
  close(rowOf(found.table, 'mainError').ms, 601.330555556)
  close(rowOf(found.table, 'error').ms, 177.083333333)
  close(rowOf(found.table, 'treatment').f ?? 0, 1.48534, 5e-6)
  close(rowOf(found.table, 'subplot').f ?? 0, 37.68565, 1e-6)
  close(rowOf(found.table, 'subplot').p ?? 0, 2.4577e-12, 1e-4)
  close(rowOf(found.table, 'interaction').f ?? 0, 0.30282, 2e-5)
  close(found.cv ?? 0, 23.5851862)
  close(found.subplots?.cv ?? 0, 12.7988668)
  close(found.sed ?? 0, 7.07890384)
  close(found.subplots?.sed ?? 0, 4.4357554)
  close(found.subplots?.lsd ?? 0, 8.93406997)
  expect(blockedAnova(rows.slice(1))).toMatchObject({ kind: 'refused', reason: 'incomplete' })
})

it('a confounded factorial: Yates 1937, peas; N:P:K is lost to the blocks and said so', () => {
  const rows = table('npk.csv')
  const labels = (name: string) => rows.map((row) => `${row[name]}`)
  const found = answered(
    linearModel({
      y: rows.map((row) => Number(row.yield)),
      fixed: { block: labels('block').map((one) => `b${one}`), N: labels('N'), P: labels('P'), K: labels('K') },
      interactions: ['N:P', 'N:K', 'P:K', 'N:P:K'],
    }),
  )
  close(rowOf(found.table, 'block').ss, 343.295)
  close(rowOf(found.table, 'N').ss, 189.2816667)
  close(rowOf(found.table, 'N').f ?? 0, 12.25873, 1e-6)
  close(rowOf(found.table, 'N').p ?? 0, 0.0043718, 1e-5)
  close(rowOf(found.table, 'N:P').ss, 21.2816667)
  close(found.residual.ss, 185.2866667)
  expect(found.residual.df).toBe(12)
  expect(found.aliased).toHaveLength(1)
})

it('warp breaks: Tippett 1950, Technological Applications of Statistics, p. 106', () => {
  const rows = table('warpbreaks.csv')
  const y = rows.map((row) => Number(row.breaks))
  const tension = rows.map((row) => row.tension ?? '')
  const found = answered(linearModel({ y, fixed: { wool: rows.map((row) => row.wool ?? ''), tension } }))
  close(rowOf(found.table, 'wool').f ?? 0, 3.33932, 2e-6)
  close(rowOf(found.table, 'tension').p ?? 0, 0.0013778, 2e-5)
  close(found.residual.ms, 134.957778)
  const groups = ['H', 'M', 'L'].map((name) => ({ name, mean: meanOf(y.filter((_, i) => tension[i] === name)), n: 18 }))
  const tukey = answered(tukeyHsd(groups, { mse: found.residual.ms, df: found.residual.df }))
  const pair = tukey.pairs.find((one) => one.a === 'H' && one.b === 'L')
  close(pair?.low ?? 0, 5.3688015, 1e-5)
  close(pair?.p ?? 0, 0.001121788, 1e-4)
  expect(tukey.letters).toEqual({ H: 'a', M: 'a', L: 'b' })
})

it('refuses one plot a treatment without blocks, and one treatment', () => {
  const plots = [
    { value: 1, treatment: 'a' },
    { value: 2, treatment: 'b' },
  ]
  expect(blockedAnova(plots)).toMatchObject({ kind: 'refused', reason: 'no error term' })
  expect(blockedAnova(plots.slice(1))).toMatchObject({ kind: 'refused', reason: 'too few' })
})
