import type { FigureKey } from '../comparison/totals/figures.ts'
import { recordOf } from '../lookups/keys.ts'
import type { IsoDate } from '../quantities/dates.ts'

/** Figures of Compare's first table that something can be expected of: of a method, or of one beside another. */
export const figuresExpected = [
  'marketablePerBed',
  'hoursPerBed',
  'hoursPerKg',
  'costPerBed',
  'costPerKg',
] as const satisfies readonly FigureKey[]

/** What a decision can expect in a unit of its own, so that the record can say what happened. */
export const expectedMeasures = [...figuresExpected, 'matchedRatio', 'minorPerHour', 'workOnGround', 'spread'] as const
export type ExpectedMeasure = (typeof expectedMeasures)[number]

/** In UCUM codes, but for money. */
export const unitExpected = {
  marketablePerBed: 'kg/m2',
  hoursPerBed: 'h/m2',
  hoursPerKg: 'h/kg',
  costPerBed: 'minor/m2',
  costPerKg: 'minor/kg',
  /** Like for like: the method over the other, on the crops that stood under both. */
  matchedRatio: '1',
  /** What an hour brought after inputs. */
  minorPerHour: 'minor/h',
  /** Hours without harvest, washing and packing on some ground. */
  workOnGround: 'h',
  spread: 'm3',
} as const satisfies Record<ExpectedMeasure, string>

/** Of a form, in the order in which they are asked. */
export const figureNames = [
  'measure',
  'expectedFigure',
  'expectedLow',
  'expectedHigh',
  'aboutSeasonId',
  'methodId',
  'besideMethodId',
  'ground',
  'inputId',
] as const

/** What else has to be named for a measure. */
export const asksFor: Record<ExpectedMeasure, readonly ('methodId' | 'besideMethodId' | 'ground')[]> = {
  ...recordOf(figuresExpected, () => ['methodId'] as const),
  matchedRatio: ['methodId', 'besideMethodId'],
  minorPerHour: ['methodId'],
  workOnGround: ['ground'],
  spread: [],
}

/** Thousandths of the measure's unit; of money, of the minor unit. */
export interface Expectation {
  readonly measure: ExpectedMeasure
  readonly expectedThousandths: number
  readonly lowThousandths: number | null
  readonly highThousandths: number | null
  /** Null: the next season that begins. */
  readonly aboutSeasonId: string | null
  readonly methodId: string | null
  readonly besideMethodId: string | null
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly inputId: string | null
}

/** As a decision keeps it. */
export interface FigureStored extends Omit<Expectation, 'measure' | 'expectedThousandths'> {
  readonly measure: string | null
  readonly expectedThousandths: number | null
}

/** Null for a decision that expects no figure, and for a measure that a later release may know. */
export function expectationOf(stored: FigureStored): Expectation | null {
  const measure = expectedMeasures.find((one) => one === stored.measure)
  const { expectedThousandths } = stored
  return measure === undefined || expectedThousandths === null ? null : { ...stored, measure, expectedThousandths }
}

/** The season named, otherwise the first that began after the day on which it was decided. */
export function seasonMeant<T extends { readonly id: string; readonly startsOn: IsoDate }>(
  seasons: readonly T[],
  { aboutSeasonId, decidedOn }: Pick<Expectation, 'aboutSeasonId'> & { readonly decidedOn: IsoDate },
): T | undefined {
  if (aboutSeasonId !== null) return seasons.find((one) => one.id === aboutSeasonId)
  return seasons.find((one) => one.startsOn > decidedOn)
}

interface ChoiceShown {
  readonly value: string
  readonly label: string
}

/** What a figure can be about, as a form offers it; ground as "garden:<id>" or "bed:<id>". */
export interface ChoicesOfFigures {
  readonly aboutSeasonId: readonly ChoiceShown[]
  readonly methodId: readonly ChoiceShown[]
  readonly ground: readonly ChoiceShown[]
  readonly inputId: readonly ChoiceShown[]
}
