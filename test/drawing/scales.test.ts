import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { linearScale, logScale, plainScale } from '../../src/drawing/scales.ts'

const onto = { from: 0, to: 100, count: 5 }
const valuesOf = (scale: { ticks: readonly { value: number }[] }) => scale.ticks.map((tick) => tick.value)
const writtenOf = (scale: { ticks: readonly { value: number; decimals: number }[] }) =>
  scale.ticks.map((tick) => tick.value.toFixed(tick.decimals))

describe('even steps', () => {
  it('are 1, 2 or 5 times a power of ten, from below the lowest to above the highest', () => {
    expect(valuesOf(linearScale([0, 4.43], onto))).toEqual([0, 1, 2, 3, 4, 5])
    expect(valuesOf(linearScale([0, 870], onto))).toEqual([0, 200, 400, 600, 800, 1000])
    expect(valuesOf(linearScale([-12, 30], onto))).toEqual([-20, -10, 0, 10, 20, 30])
  })

  it('say how many decimals tell them apart', () => {
    expect(linearScale([0, 0.13], onto).ticks[1]?.decimals).toBe(2)
    expect(writtenOf(linearScale([5.8, 6.6], onto))).toEqual(['5.8', '6.0', '6.2', '6.4', '6.6'])
  })

  it('put a value in its place, and one outside at the edge', () => {
    const scale = linearScale([0, 5], onto)
    expect([0, 2.5, 5].map((value) => scale.at(value))).toEqual([0, 50, 100])
    expect([scale.at(99), scale.at(-1), scale.at(Infinity), scale.at(-Infinity)]).toEqual([100, 0, 100, 0])
    expect([scale.outside(99), scale.outside(-1), scale.outside(5)]).toEqual([1, -1, 0])
  })

  it('stand for any numbers', () => {
    fc.assert(
      fc.property(fc.array(fc.double(), { maxLength: 6 }), (values) => {
        const scale = linearScale(values, onto)
        expect(scale.ticks.length).toBeGreaterThan(1)
        expect(scale.ticks.length).toBeLessThan(20)
        expect(scale.ticks.every((tick) => Number.isFinite(tick.value) && tick.decimals <= 12)).toBe(true)
        for (const value of values.filter((one) => !Number.isNaN(one))) {
          expect(scale.at(value)).toBeGreaterThanOrEqual(0)
          expect(scale.at(value)).toBeLessThanOrEqual(100)
        }
      }),
    )
  })
})

describe('steps of a factor', () => {
  it('put half and twice equally far from 1', () => {
    const scale = logScale([0.25, 4], onto)
    expect(scale.at(1)).toBeCloseTo(50, 9)
    expect(scale.at(2) - scale.at(1)).toBeCloseTo(scale.at(1) - scale.at(0.5), 9)
  })

  it('name round numbers, with those that must be there', () => {
    expect(writtenOf(logScale([0.3, 3], onto))).toEqual(['0.3', '0.5', '0.7', '1', '1.5', '2', '3'])
    expect(writtenOf(logScale([0.04, 3], onto))).toEqual(['0.05', '0.1', '0.2', '0.5', '1', '2'])
    expect(writtenOf(logScale([0.94, 1.5], onto))).toEqual(['1.0', '1.2', '1.4'])
    expect(valuesOf(logScale([3, 4], onto, [3.5]))).toContain(3.5)
    expect(valuesOf(logScale([1e-9, 1e9], onto)).length).toBeLessThan(12)
  })

  it('stand for any numbers, those not above zero at the low edge', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ noNaN: true }), { maxLength: 6 }), (values) => {
        const scale = logScale(values, onto, [1])
        for (const value of values) {
          expect(scale.at(value)).toBeGreaterThanOrEqual(0)
          expect(scale.at(value)).toBeLessThanOrEqual(100)
          if (value <= 0) expect([scale.at(value), scale.outside(value)]).toEqual([0, -1])
        }
        expect(scale.ticks.every((tick) => Number.isFinite(tick.value))).toBe(true)
      }),
    )
  })
})

describe('a scale without steps', () => {
  it('runs from the first to the last value, a single one in the middle', () => {
    expect(plainScale([2, 4], onto).at(3)).toBe(50)
    expect(plainScale([7], onto).at(7)).toBe(50)
    expect(plainScale([], onto).at(1)).toBe(100)
  })
})
