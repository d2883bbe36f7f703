import { describe, expect, it } from 'vitest'
import { sideBySideShown } from '../../src/comparison/findings/side-by-side.page.ts'
import {
  type SideBySide,
  type SideCell,
  type SideMeasure,
  sideKeys,
} from '../../src/comparison/findings/side-by-side.ts'
import { ratioTicks, ratioX } from '../../src/drawing/ratio-cell.ts'

const bare: SideCell = {
  figure: null,
  none: null,
  ratio: null,
  low: null,
  high: null,
  seasons: [],
  told: null,
  openWeeks: false,
  scope: null,
}
const cell = (ratio: number, low: number, high: number, told: SideCell['told']): SideCell => ({
  ...bare,
  ratio,
  low,
  high,
  told,
  scope: 'plots',
})
const referenceCells = Object.fromEntries(
  sideKeys.map((key) => [key, { ...bare, none: 'reference' as const }]),
) as Record<SideMeasure, SideCell>

const side = (cells: Record<string, Record<SideMeasure, SideCell>>, more: Partial<SideBySide> = {}): SideBySide => ({
  referenceId: 'dug',
  rows: [
    { methodId: 'dug', method: 'Dug', gardens: ['Lower Terrace'], place: 0, cells: referenceCells },
    ...Object.entries(cells).map(([garden, own], i) => ({
      methodId: garden,
      method: `Method of ${garden}`,
      gardens: [garden],
      place: i + 1,
      cells: own,
    })),
  ],
  seasons: ['2023/24', '2024/25', '2025/26'],
  level: 0.975,
  questionLocked: false,
  rests: { crops: 12, plantings: 180, closed: 640, weeks: 655 },
  certainty: { weight: 'very low', method: 'one garden' },
  ...more,
})

const untold = cell(1.1, 0.6, 1.9, 'not told')
const trial = side({
  'Long Bank': { weight: untold, work: cell(0.63, 0.56, 0.71, 'exploratory'), workPerKg: untold, inputsPerKg: untold },
  'Hay Meadow': {
    weight: cell(0.9, 0.5, 1.6, 'not told'),
    work: cell(0.88, 0.7, 1.1, 'not told'),
    workPerKg: untold,
    inputsPerKg: cell(14.12, 4.7, 43, 'exploratory'),
  },
})

describe('the table that is the picture', () => {
  const shown = sideBySideShown(trial, { locale: 'en-NZ', currency: 'NZD' })

  it('a mark stands over the tick of its ratio', () => {
    for (const ratio of ratioTicks) {
      const own = side({
        X: { weight: cell(ratio, ratio, ratio, 'told'), work: untold, workPerKg: untold, inputsPerKg: untold },
      })
      const drawn = sideBySideShown(own, { locale: 'en', currency: 'NZD' }).rows[1]?.cells[0]?.drawn
      expect(drawn?.x).toBe(shown.axis.ticks.find((tick) => tick.x === ratioX(ratio))?.x)
    }
    const xs = shown.axis.ticks.map((tick) => tick.x)
    const steps = xs.slice(1).map((x, i) => x - (xs[i] ?? 0))
    expect(Math.max(...steps) - Math.min(...steps)).toBeLessThan(0.2)
  })

  it('says "so far" at the head of a column whose figures are all so, and at the figure where one is not', () => {
    const given = (limit: 'so far' | null) => ({
      ...untold,
      figure: { key: 'marketablePerBed' as const, numerator: 8, denominator: 4, value: 2, limit },
    })
    const own = (limits: readonly ('so far' | null)[]) => {
      const rows = limits.map((limit, i) => [
        `Garden ${i}`,
        { weight: given(limit), work: untold, workPerKg: untold, inputsPerKg: untold },
      ])
      const { columns, rows: told } = sideBySideShown(side(Object.fromEntries(rows)), { locale: 'en', currency: 'NZD' })
      return [columns[0]?.limit, ...told.slice(1).map((row) => row.cells[0]?.atLeast)]
    }
    expect(own(['so far', 'so far'])).toEqual(['so far', 'so far', 'so far'])
    expect(own(['so far', null])).toEqual([null, 'so far', null])
  })

  it('where weeks are open, what nobody has written is no nought', () => {
    const of = (limit: 'at least' | null) => {
      const figure = { key: 'hoursPerBed' as const, value: 0, numerator: 0, denominator: 480_000, limit }
      const own = side({ X: { weight: untold, work: { ...untold, figure }, workPerKg: untold, inputsPerKg: untold } })
      const shown = sideBySideShown(own, { locale: 'en-NZ', currency: 'NZD' }).rows[1]?.cells[1]
      return [shown?.atLeast, shown?.figure]
    }
    expect([of('at least'), of(null)]).toEqual([
      [null, 'none yet'],
      [null, '0.00'],
    ])
  })

  it('is filled, half or a ring as it was told, and says nothing where the interval says nothing', () => {
    expect(shown.rows[1]?.cells.map((one) => one.drawn?.look)).toEqual(['ring', 'half', 'ring', 'ring'])
    expect(shown.rows[2]?.cells[3]?.said).toBe('14× (4.7–43)')
    const wide = side({
      X: { weight: cell(1, 0.1, 12, 'not told'), work: untold, workPerKg: untold, inputsPerKg: untold },
    })
    expect(sideBySideShown(wide, { locale: 'en', currency: 'NZD' }).rows[1]?.cells[0]).toMatchObject({
      said: 'range too wide',
      drawn: null,
    })
  })
})
