import fc from 'fast-check'
import { expect, it } from 'vitest'
import { chanceFrom } from '../../src/statistics/chance-from.ts'
import { fitMixedModel } from '../../src/statistics/fit-mixed-model.ts'
import { criterionOf, crossProducts } from '../../src/statistics/reml.ts'

const ratios = [0, 0.03, 0.1, 0.2, 0.35, 0.5, 0.7, 1, 1.4, 2, 3, 5, 9, 20]

it('no point of a grid of variances fits better than the one found, on unbalanced crossed trials', () => {
  let refusals = 0
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 1e6 }),
      fc.constantFrom(0, 0.2, 1, 5),
      fc.constantFrom(0, 0.2, 1, 5),
      fc.constantFrom(0.5, 0.8, 1),
      (seed, cropSd, seasonSd, stays) => {
        const chance = chanceFrom(seed)
        const [crops, seasons] = [7, 5].map((count) => Array.from({ length: count }, () => chance.normal()))
        const plots = [0, 1, 2].flatMap((m) =>
          (crops ?? []).flatMap((crop, c) =>
            (seasons ?? []).flatMap((season, s) => {
              const y = 100 + m + cropSd * crop + seasonSd * season + chance.normal()
              return chance.uniform() < stays ? [{ y, m, c, s }] : []
            }),
          ),
        )
        const y = plots.map((plot) => plot.y)
        const labels = (key: 'm' | 'c' | 's') => plots.map((plot) => `${key}${plot[key]}`)
        const found = fitMixedModel({ y, fixed: { m: labels('m') }, random: { c: labels('c'), s: labels('s') } })
        if (found.kind === 'refused') {
          refusals += 1
          return
        }
        const columns = [0, 1, 2].map((m) => plots.map((plot) => Number(m === 0 || plot.m === m)))
        const [atCrop, atSeason] = [plots.map((plot) => plot.c), plots.map((plot) => plot.s)]
        const data = crossProducts(y, columns, [atCrop, atSeason], [7, 5])
        const grid = ratios.flatMap((crop) => ratios.map((season) => criterionOf(data, [crop, season])))
        expect(found.remlCriterion).toBeLessThan(Math.min(...grid) + 1e-6)
      },
    ),
    { numRuns: 200, seed: 27 },
  )
  expect(refusals).toBe(0)
})
