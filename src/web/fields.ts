import { z } from 'zod'
import { type AreaUnit, readArea } from '../quantities/areas.ts'
import { type IsoDate, readDate } from '../quantities/dates.ts'
import { type Reading, readAsPrinted, readDecimal, type TwoReadings } from '../quantities/decimals.ts'
import { type LengthUnit, readDepth, readThickness } from '../quantities/lengths.ts'
import { readMeasured } from '../quantities/measured.ts'
import { readMoney } from '../quantities/money.ts'
import { readPerArea } from '../quantities/per-area.ts'
import { readPrinted } from '../quantities/printed-limits.ts'
import { readStandardError } from '../quantities/standard-errors.ts'
import { readLabour } from '../quantities/times.ts'
import { readWeight, type WeightUnit } from '../quantities/weights.ts'
import type { Words } from '../words/catalogue.ts'
import { localeOfReading } from './reading-in.ts'
import { wordsHere } from './words-here.ts'

/**
 * Field makers: the strings of a form to values, or the sentence that its writer reads. A blank is missing, never 0.
 */
type Say = (words: Words['fields']) => string
/** Said when something is read, in the language of whoever wrote it. */
export const said = (say: Say) => ({ error: () => say(wordsHere().fields) })

/** A byte of nothing is no letter, and the database refuses the whole text for it. */
const withoutNul = (value: string) => value.replaceAll('\0', '')

const typed = z.string(said((w) => w.missing)).overwrite(withoutNul)

export const text = ({ most }: { most: number }) =>
  typed
    .trim()
    .min(
      1,
      said((w) => w.missing),
    )
    .max(
      most,
      said((w) => w.tooLong(most)),
    )

export const optionalText = ({ most }: { most: number }) =>
  z
    .string()
    .overwrite(withoutNul)
    .trim()
    .max(
      most,
      said((w) => w.tooLong(most)),
    )
    .optional()
    .transform((value) => value || null)

export const uuid = () => z.uuid(said((w) => w.notChosen))

export const choice = <const T extends readonly string[]>(values: T) =>
  z.enum(
    values,
    said((w) => w.notChosen),
  )

export const date = () =>
  reading(
    (text) => fromDate(text),
    (w) => w.noSuchDay,
  )
export const optionalDate = () => optional(date())

export const weight = (unitWithout: WeightUnit) =>
  reading(
    (text, locale) => readWeight(text, unitWithout, locale),
    (w) => w.notWeight,
  )
export const labour = () => reading(readLabour, (w) => w.notTime)
/** Minutes of work, of which nothing at all is an answer too: "0". */
export const labourOrNone = () =>
  reading(
    (text, locale) => {
      const found = readLabour(text, locale)
      if (found.kind === 'refused') return found.reason === 'zero' ? { kind: 'answer', value: 0 } : found
      return { kind: 'answer', value: Number(found.value.personMinutes) }
    },
    (w) => w.notTime,
  )
export const area = (unitWithout: AreaUnit) =>
  reading(
    (text, locale) => readArea(text, unitWithout, locale),
    (w) => w.notArea,
  )
export const money = (currency: string) =>
  reading(
    (text, locale) => readMoney(text, currency, locale),
    (w) => w.notMoney(currency),
  )

/** Of a nutrient on ground: in whole milligrams on a m2. */
export const perArea = () => reading(readPerArea, (w) => w.notPerArea)

/** Of a layer: in millimetres and parts of them. */
export const thickness = (unitWithout: LengthUnit) =>
  reading(
    (text, locale) => readThickness(text, unitWithout, locale),
    (w) => w.notLength,
  )

/** From the surface down, as a report prints it: "0-20 cm". */
export const depth = (unitWithout: LengthUnit) =>
  reading(
    (text, locale) => readDepth(text, unitWithout, locale),
    (w) => w.notLength,
  )
/** A decimal as it is printed on a report: its digits are kept, its sign too. */
export const printed = () => reading(readAsPrinted, (w) => w.notNumber)

/** The same, or a limit that a laboratory printed in its place: "<5". */
export const printedOrLimit = () => reading(readPrinted, (w) => w.notPrinted)

/** Of a laboratory: in the unit of its value, or per cent of it. */
export const standardError = () => reading(readStandardError, (w) => w.notError)

/** Thousandths of whatever unit the group counts in. */
export const quantity = () =>
  reading(readDecimal, (w) => w.notNumber)
    .transform((amount) => Math.round(amount * 1000))
    .refine(
      (thousandths) => thousandths > 0,
      said((w) => w.moreThanNothing),
    )

/** A quantity with the word it was measured in, where one is typed: "12 barrows". */
export const measured = () => reading(readMeasured, (w) => w.notNumber)

export const decimal = ({ least, most }: { least: number; most: number }) =>
  between(
    reading(readDecimal, (w) => w.notNumber),
    { least, most },
  )

export const wholeNumber = ({ least, most }: { least: number; most: number }) =>
  between(
    reading(readDecimal, (w) => w.notNumber).refine(
      Number.isInteger,
      said((w) => w.notWhole),
    ),
    { least, most },
  )

const between = <T extends z.ZodType<number, unknown>>(field: T, { least, most }: { least: number; most: number }) =>
  field
    .refine(
      (value) => value >= least,
      said((w) => w.atLeast(least)),
    )
    .refine(
      (value) => value <= most,
      said((w) => w.atMost(most)),
    )

export const optional = <T>(field: z.ZodType<T, unknown>) =>
  z
    .preprocess((value) => (typeof value === 'string' && value.trim() === '' ? undefined : value), field.optional())
    .transform((value) => value ?? null)

/** A number and its unit are never longer, and neither is a day. */
const mostOfReading = 120

/** Any reader of a text as a field; what it cannot read is told by `otherwise`. */
export function reading<T>(read: (text: string, locale: string | undefined) => Reading<T>, otherwise: Say) {
  return typed
    .max(
      mostOfReading,
      said((w) => w.tooLong(mostOfReading)),
    )
    .transform((text, context) => {
      const found = read(text, localeOfReading())
      if (found.kind === 'answer') return found.value
      context.addIssue({ code: 'custom', message: sentenceOf(found, otherwise) })
      return z.NEVER
    })
}

type Refused = Extract<Reading<unknown>, { kind: 'refused' }>

function sentenceOf({ reason, readings }: Refused, otherwise: Say): string {
  const words = wordsHere().fields
  if (readings) return askedOf(readings)
  if (reason === 'empty') return words.missing
  return reason === 'zero' ? words.moreThanNothing : otherwise(words)
}

const askedOf = ([asDecimal, asThousands]: TwoReadings) => wordsHere().fields.twoReadings(asDecimal, asThousands)

function fromDate(text: string): Reading<IsoDate> {
  if (text.trim() === '') return { kind: 'refused', reason: 'empty' }
  const day = readDate(text)
  return day ? { kind: 'answer', value: day } : { kind: 'refused', reason: 'not-a-number' }
}
