import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { drawBarLedger } from '../../src/drawing/bar-ledger.ts'
import { drawCourse } from '../../src/drawing/course.ts'
import type { Drawing } from '../../src/drawing/drawing.ts'
import { drawIntervals, type IntervalRow } from '../../src/drawing/intervals.ts'
import { drawSplitGap, stackOf } from '../../src/drawing/split-gap.ts'
import { drawStackedSteps, runsOf } from '../../src/drawing/stacked-steps.ts'
import { expectSound, faultsOf } from './sound.ts'

const write = (value: number, decimals: number) => value.toFixed(decimals)
const intervals = (rows: readonly IntervalRow[], scale: 'linear' | 'log' = 'linear', reference = false) =>
  drawIntervals({ rows, scale, reference: reference ? { value: 1, label: 'alike' } : null, axis: 'kg per m²', write })
const pegs = (drawing: Drawing) => drawing.lines.filter((line) => line.look === 'peg').map((line) => line.x1)
const spans = (drawing: Drawing) => drawing.lines.filter((line) => line.look.endsWith('span'))

describe('the check of drawings itself', () => {
  it('sees a mark outside, a word over another and a number that is none', () => {
    const sound = intervals([{ label: 'Long Bank', figure: '3.1', value: 3.1 }])
    const [text] = sound.texts
    if (!text) throw new Error('no text')
    expect(faultsOf(sound)).toEqual([])
    expect(faultsOf({ ...sound, texts: [...sound.texts, text] })).toEqual(['"Long Bank" over "Long Bank"'])
    expect(faultsOf({ ...sound, texts: [{ ...text, y: 40, x: 100 }] }).join()).toMatch(/peg|axis|rule/)
    expect(faultsOf({ ...sound, rects: [{ x: 330, y: 1, width: 30, height: 1, fill: 1 }] })).toHaveLength(1)
    expect(faultsOf({ ...sound, paths: [{ points: [[Number.NaN, 1]], dash: 1, sure: true }] })).not.toEqual([])
  })
})

describe('intervals', () => {
  it('stand in the order given, a line for each that has one', () => {
    const drawing = intervals([
      { label: 'Long Bank', figure: '3.9', value: 3.9, low: 3.3, high: 4.5 },
      { label: 'Lower Terrace', figure: '3.1', value: 3.1, low: 2.6, high: 3.6 },
      { label: 'Hay Meadow', figure: '2.4 (one season: none)', value: 2.4 },
    ])
    expect(pegs(drawing)).toEqual([...pegs(drawing)].sort((a, b) => b - a))
    expect(spans(drawing)).toHaveLength(2)
    expectSound(drawing)
  })

  it('of ratios put half and twice equally far from 1', () => {
    const rows = [0.5, 1, 2].map((value) => ({ label: String(value), figure: '', value }))
    const [half = 0, one = 0, twice = 0] = pegs(intervals(rows, 'log', true))
    expect(one - half).toBeCloseTo(twice - one, 0)
  })

  it('that run on without end are drawn to the side and pointed', () => {
    const drawing = intervals([{ label: 'Clover Strip', figure: '', value: 2, low: 0.3, high: Infinity }])
    expect(spans(drawing)[0]?.x2).toBe(335)
    expect(drawing.lines.filter((line) => line.look === 'edge')).toHaveLength(2)
  })

  it('a ratio of zero points to the side and has no peg', () => {
    const drawing = intervals([{ label: 'Beans', figure: '0.00', value: 0 }], 'log', true)
    expect(pegs(drawing)).toEqual([])
    expect(drawing.lines.filter((line) => line.look === 'edge').every((line) => line.x2 === 5)).toBe(true)
  })

  it('a very wide one does not press the others together', () => {
    const rows = [1.1, 0.9].map((value) => ({ label: '', figure: '', value, low: value - 0.2, high: value + 0.2 }))
    const drawing = intervals([...rows, { label: '', figure: '', value: 1, low: 1e-6, high: 1e6 }], 'log', true)
    const [first = 0, second = 0] = pegs(drawing)
    expect(first - second).toBeGreaterThan(20)
  })

  it('an unknown value draws nothing', () => {
    const drawing = intervals([{ label: 'Leeks', figure: 'not known', value: null }])
    expect([pegs(drawing), spans(drawing)]).toEqual([[], []])
  })
})

describe('a gap in parts', () => {
  it('is stacked from zero to either side and ends where its sum says', () => {
    const pieces = stackOf([3, -2, 4, null, -1])
    expect(pieces.map(({ start, end }) => [start, end])).toEqual([
      [0, 3],
      [0, -2],
      [3, 7],
      [-2, -3],
    ])
  })

  it('shows every part once for itself, then together, then by row', () => {
    const drawing = drawSplitGap({
      parts: [
        { label: 'mix', figure: '−1', total: -1 },
        { label: 'growth', figure: '+3', total: 3 },
      ],
      total: { label: 'together', figure: '+2' },
      rows: [{ label: 'Leeks', figure: '+2', parts: [-1, 3] }],
      ...{ axis: 'kg', write },
    })
    expect(drawing.rects.map((rect) => rect.fill)).toEqual([1, 2, 1, 2, 1, 2])
    const [mix, growth, ...both] = drawing.rects
    expect(both.map((rect) => [rect.x, rect.width])).toEqual([mix, growth, mix, growth].map((r) => [r?.x, r?.width]))
    expect((growth?.width ?? 0) / (mix?.width ?? 1)).toBeCloseTo(3, 1)
    expect(new Set(pegs(drawing)).size).toBe(1)
  })
})

describe('steps one on the other', () => {
  const steps = (values: readonly (readonly (number | null)[])[]) =>
    drawStackedSteps({
      groups: values.map((own, i) => ({ label: `group ${i + 1}`, figure: '1 h', values: own })),
      ...{ ticks: [{ at: 0, label: 'Aug' }], axis: 'hours a week', unknown: 'not closed', write },
    })

  it('break where one group is unknown, and say so', () => {
    expect(runsOf([true, true, false, true])).toEqual([
      [0, 2],
      [3, 4],
    ])
    const drawing = steps([
      [1, 2, 1, 1],
      [1, 1, null, 1],
    ])
    expect(drawing.areas).toHaveLength(4)
    expect(drawing.texts.some((text) => text.text === 'not closed')).toBe(true)
    expect(steps([[1, 2]]).texts.some((text) => text.text === 'not closed')).toBe(false)
  })

  it('stand on the top of the group below', () => {
    const [lower, upper] = steps([
      [2, 2],
      [1, 1],
    ]).areas
    const ys = (points: readonly (readonly [number, number])[] = []) => [...new Set(points.map(([, y]) => y))]
    expect(ys(upper?.points)).toHaveLength(2)
    expect(ys(lower?.points)).toContain(Math.max(...ys(upper?.points)))
  })
})

describe('a course', () => {
  const course = (series: readonly (readonly (number | null)[])[], notes: { x: number; text: string }[] = []) =>
    drawCourse({
      series: series.map((own, i) => ({ label: `series ${i + 1}`, points: own.map((y, x) => ({ x, y })) })),
      ...{ ticks: [], axis: 'pH', write, notes },
    })

  it('has a gap where a value is unknown, never a line through', () => {
    const drawing = course([[6, 6.2, null, 6.4, 6.5]])
    const [first, second] = drawing.paths
    expect([first?.points.length, second?.points.length]).toEqual([2, 2])
    expect((first?.points.at(-1)?.[0] ?? 0) < (second?.points[0]?.[0] ?? 0)).toBe(true)
  })

  it('shows a value alone between gaps', () => {
    const drawing = course([[null, 6.1, null, 6.3, 6.2]])
    expect(drawing.lines.filter((line) => line.look === 'small-peg')).toHaveLength(1)
  })

  it('names each series at its end, those that end together one under the other', () => {
    const drawing = course([
      [5, 6],
      [4, 6],
      [3, 6],
      [null, null],
    ])
    expect(drawing.texts.filter((text) => text.text.startsWith('series')).map((text) => text.text)).toEqual([
      ...['series 1', 'series 2', 'series 3'],
    ])
    expectSound(drawing)
  })

  it('letters its notes, apart where they stand together', () => {
    const drawing = course(
      [[1, 2, 3]],
      [
        { x: 1, text: 'here' },
        { x: 1, text: 'and here' },
      ],
    )
    expect(drawing.texts.filter((text) => text.text === 'a' || text.text === 'b')).toHaveLength(4)
    expectSound(drawing)
  })
})

describe('any figures, and any words, make a sound drawing', () => {
  const value = fc.oneof(
    fc.constantFrom(null, 0, -0, 1, -1, 1e300, -1e300, 5e-324, Infinity, -Infinity, Number.NaN),
    fc.double({ noNaN: true, min: -1000, max: 1000 }),
  )
  const words = fc.oneof(
    fc.constantFrom('', 'Living clover between rows', 'M'.repeat(90)),
    fc.string({ maxLength: 60 }),
  )
  const list = <T>(one: fc.Arbitrary<T>) => fc.array(one, { maxLength: 7 })
  const values = list(value)

  it('intervals', () => {
    const kind = fc.constantFrom('single' as const, 'pooled' as const, 'predicted' as const)
    const row = fc.record({ label: words, figure: words, value, low: value, high: value, kind })
    fc.assert(
      fc.property(list(row), fc.constantFrom('linear' as const, 'log' as const), words, fc.boolean(), (...given) => {
        const [rows, scale, axis, compared] = given
        const reference = compared ? { value: 1, label: axis } : null
        expectSound(drawIntervals({ rows, scale, reference, axis, write }))
      }),
    )
  })

  it('a gap in parts', () => {
    const parts = list(fc.record({ label: words, figure: words, total: value }))
    const rows = list(fc.record({ label: words, figure: words, parts: values }))
    fc.assert(
      fc.property(parts, rows, words, (parts, rows, axis) => {
        expectSound(drawSplitGap({ parts, total: { label: axis, figure: '0' }, rows, axis, write }))
      }),
    )
  })

  it('bars', () => {
    const rows = list(fc.record({ label: words, figure: words, value }))
    fc.assert(
      fc.property(list(fc.record({ heading: words, rows })), (groups) => {
        expectSound(drawBarLedger({ groups }))
      }),
    )
  })

  const ticks = list(fc.record({ at: fc.integer({ min: -3, max: 60 }), label: words }))

  it('steps', () => {
    fc.assert(
      fc.property(list(fc.record({ label: words, figure: words, values })), ticks, words, (groups, ticks, axis) => {
        expectSound(drawStackedSteps({ groups, ticks, axis, unknown: axis, write }))
      }),
    )
  })

  it('courses', () => {
    const point = fc.record({ x: fc.integer({ min: -5, max: 50 }), y: value, sure: fc.boolean() })
    const series = list(fc.record({ label: words, points: list(point) }))
    const notes = list(fc.record({ x: fc.integer({ min: -5, max: 50 }), text: words }))
    fc.assert(
      fc.property(series, ticks, notes, words, fc.boolean(), (series, ticks, notes, axis, pegs) => {
        expectSound(drawCourse({ series, ticks, notes, axis, pegs, fromZero: pegs, write }))
      }),
    )
  })
})
