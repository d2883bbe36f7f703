import { describe, expect, it } from 'vitest'
import { fitMixedModel } from '../../src/statistics/fit-mixed-model.ts'
import { answered, close, hildebrand, table } from './close.ts'

const farms = Object.entries(hildebrand).flatMap(([system, yields]) =>
  yields.map((value, i) => ({ system, farm: `F${i + 1}`, village: i < 8 ? 'V1' : 'V2', y: Math.log(value) })),
)
const column = <T, K extends keyof T>(rows: readonly T[], name: K) => rows.map((row) => row[name])
const of = (
  found: { coefficients: readonly { name: string; estimate: number; se: number; df: number }[] },
  name: string,
) => {
  const one = found.coefficients.find((coefficient) => coefficient.name === name)
  if (!one) throw new Error(`no ${name}`)
  return one
}

describe('fourteen farms: Hildebrand 1984, on logs, farm at random (values of R lme4 1.1-31, lmerTest 3.1-3)', () => {
  const y = column(farms, 'y')
  const fixed = { system: column(farms, 'system') }

  it('one random factor', () => {
    const found = answered(fitMixedModel({ y, fixed, random: { farm: column(farms, 'farm') } }))
    close(found.varianceComponents.farm ?? 0, 0.256805751, 1e-4)
    close(found.varianceComponents.residual ?? 0, 0.15876864, 1e-4)
    close(found.remlCriterion, 88.5713851937)
    close(of(found, 'intercept').se, 0.172290119, 1e-4)
    close(of(found, 'intercept').df, 24.2356393, 1e-4)
    close(of(found, 'system=LMF').estimate, 0.700416517)
    close(of(found, 'system=LMF').se, 0.150602903, 1e-4)
    close(of(found, 'system=LMF').df, 39, 1e-4)
    expect(found.singular).toBe(false)
  })

  it('nested in villages, with Kenward and Roger’s standard error (R pbkrtest 0.5.2)', () => {
    const random = { farm: column(farms, 'farm'), village: column(farms, 'village') }
    const found = answered(fitMixedModel({ y, fixed, random }))
    close(found.varianceComponents.farm ?? 0, 0.2313062141, 1e-4)
    close(found.varianceComponents.village ?? 0, 0.0483428448, 1e-4)
    close(found.remlCriterion, 88.2012920836)
    close(of(found, 'intercept').df, 1.4019, 1e-3)
    const kr = answered(fitMixedModel({ y, fixed, random, df: 'kenward-roger' }))
    close(of(kr, 'intercept').se, 0.230308089, 1e-4)
  })

  it('one garden a method: the garden is aliased, dropped and named', () => {
    const random = { farm: column(farms, 'farm'), garden: column(farms, 'system') }
    const found = answered(fitMixedModel({ y, fixed, random }))
    expect(found.aliased).toEqual(['garden'])
    close(found.remlCriterion, 88.5713851937)
    close(of(found, 'system=LMF').se, 0.150602903, 1e-4)
  })
})

it('crossed places and years: Immer, Hayes & Powers 1934, on logs (R lme4)', () => {
  const rows = table('mass-immer.csv').flatMap((row) =>
    (['Y1', 'Y2'] as const).map((year) => ({
      y: Math.log(Number(row[year])),
      place: row.Loc ?? '',
      year,
      variety: row.Var ?? '',
    })),
  )
  const input = { y: column(rows, 'y'), fixed: { Var: column(rows, 'variety') }, reference: { Var: 'M' } }
  const random = { Loc: column(rows, 'place'), Year: column(rows, 'year') as string[] }
  const found = answered(fitMixedModel({ ...input, random }))
  close(found.varianceComponents.Loc ?? 0, 0.0348403879, 1e-4)
  close(found.varianceComponents.Year ?? 0, 0.0117115241, 1e-4)
  close(found.remlCriterion, -8.13245312914, 1e-5)
  close(of(found, 'Var=T').estimate, 0.2080429978)
  close(of(found, 'Var=T').df, 49, 1e-4)
  close(of(found, 'intercept').df, 4.160878, 1e-3)
  const both = rows.map((row) => `${row.place} ${row.year}`)
  const more = answered(fitMixedModel({ ...input, random: { ...random, 'Loc:Year': both } }))
  close(more.varianceComponents['Loc:Year'] ?? 0, 0.02097165169, 1e-4)
  close(more.varianceComponents.Loc ?? 0, 0.02542454906, 1e-4)
  close(of(more, 'Var=T').se, 0.0576125137, 1e-4)
})

it('an unbalanced split plot: Yates 1935 without nine plots; Satterthwaite and Kenward-Roger differ (R)', () => {
  const gone = [1, 2, 3, 5, 8, 13, 21, 34, 55]
  const rows = table('nlme-oats.csv').filter((row) => !gone.includes(Number(row.row)))
  const input = {
    y: rows.map((row) => Number(row.yield)),
    fixed: { Variety: rows.map((row) => row.Variety ?? ''), nitro: rows.map((row) => `n${row.nitro}`) },
    random: {
      'Block:Variety': rows.map((row) => `${row.Block} ${row.Variety}`),
      Block: rows.map((row) => row.Block ?? ''),
    },
    reference: { nitro: 'n0' },
  }
  const found = answered(fitMixedModel(input))
  close(found.varianceComponents['Block:Variety'] ?? 0, 76.2848504, 1e-4)
  close(found.varianceComponents.Block ?? 0, 209.4405041, 1e-4)
  close(found.varianceComponents.residual ?? 0, 180.4922922, 1e-4)
  close(found.remlCriterion, 495.943942107)
  close(of(found, 'nitro=n0.2').estimate, 18.14218243, 1e-5)
  close(of(found, 'nitro=n0.2').se, 5.00523689, 1e-4)
  close(of(found, 'nitro=n0.2').df, 40.91196, 1e-4)
  const kr = answered(fitMixedModel({ ...input, df: 'kenward-roger' }))
  close(of(kr, 'nitro=n0.2').se, 5.02251107, 1e-4)
  close(of(kr, 'nitro=n0.2').df, 43.31151, 1e-4)
  close(of(kr, 'nitro=n0.6').df, 43.32556, 1e-4)
})

it('a random factor without an effect ends at zero and says so; equal values are refused', () => {
  const y = [1, 2, 3, 4, 4, 3, 2, 1]
  const random = { block: ['a', 'a', 'a', 'a', 'b', 'b', 'b', 'b'] }
  const found = answered(fitMixedModel({ y, fixed: { m: ['x', 'x', 'y', 'y', 'x', 'x', 'y', 'y'] }, random }))
  expect(found.singular).toBe(true)
  expect(found.coefficients.every((one) => Number.isFinite(one.df))).toBe(true)
  expect(fitMixedModel({ y: y.map(() => 2), fixed: {}, random })).toMatchObject({
    kind: 'refused',
    reason: 'no variation',
  })
})
