import { asShown } from '../lookups/unsaid.ts'
import { decimalsOf } from '../quantities/money.ts'
import { type Expectation, type ExpectedMeasure, unitExpected } from './expectation.ts'

/** How many thousandths of a measure's unit one of what is typed is: money is typed in whole units of the currency. */
export const thousandthsIn = (measure: ExpectedMeasure, currency: string): number =>
  unitExpected[measure].startsWith('minor') ? 1000 * 10 ** decimalsOf(currency) : 1000

/** A figure that a page of Decide expects, in the unit of its measure (money in minor units), as it works it out. */
export interface FigureHanded
  extends Pick<Expectation, 'measure'>,
    Partial<Pick<Expectation, 'methodId' | 'besideMethodId' | 'gardenId' | 'bedId' | 'inputId'>> {
  readonly value: number
  readonly range?: { readonly low: number; readonly high: number } | null
}

/** As the form of a decision takes it. */
export function figureTyped(of: Expectation, currency: string): Record<string, string> {
  const typed = (thousandths: number | null) =>
    thousandths === null ? '' : asTyped(thousandths / thousandthsIn(of.measure, currency))
  const kind = of.gardenId === null ? 'bed' : 'garden'
  const id = of.gardenId ?? of.bedId
  return {
    measure: of.measure,
    expectedFigure: typed(of.expectedThousandths),
    expectedLow: typed(of.lowThousandths),
    expectedHigh: typed(of.highThousandths),
    aboutSeasonId: asShown(of.aboutSeasonId),
    methodId: asShown(of.methodId),
    besideMethodId: asShown(of.besideMethodId),
    ground: id === null ? '' : `${kind}:${id}`,
    inputId: asShown(of.inputId),
  }
}

/** As it is kept; never three digits alone after the point, which could be thousands. */
function asTyped(value: number): string {
  const [whole, fraction] = value
    .toFixed(6)
    .replace(/0{1,6}$/, '')
    .split('.')
  return fraction ? `${whole}.${fraction.length === 3 ? `${fraction}0` : fraction}` : `${whole}`
}

/** What a page works out, rounded once to what is kept: three digits after the point of its unit. */
export function expectationHanded({ measure, value, range, ...of }: FigureHanded): Expectation {
  const thousandths = (one: number) => Math.round(1000 * one)
  return {
    measure,
    expectedThousandths: thousandths(value),
    lowThousandths: range ? thousandths(range.low) : null,
    highThousandths: range ? thousandths(range.high) : null,
    aboutSeasonId: null,
    methodId: of.methodId ?? null,
    besideMethodId: of.besideMethodId ?? null,
    gardenId: of.gardenId ?? null,
    bedId: of.bedId ?? null,
    inputId: of.inputId ?? null,
  }
}
