import { z } from 'zod'
import type { Printed } from '../quantities/printed-limits.ts'
import type { StandardError } from '../quantities/standard-errors.ts'
import {
  date,
  depth,
  optional,
  optionalText,
  printed,
  printedOrLimit,
  said,
  standardError,
  text,
  uuid,
} from '../web/fields.ts'
import { fieldsOf } from '../web/query-of.ts'
import { wordsHere } from '../web/words-here.ts'

const ofValue = () => ({
  analyte: text({ most: 60 }),
  extractant: optionalText({ most: 60 }),
  value: printedOrLimit(),
  unit: text({ most: 20 }),
  lowUnder: optional(printed()),
  highFrom: optional(printed()),
  standardError: optional(standardError()),
})

const ofTest = () => ({
  ...ofValue(),
  place: z.string(said((w) => w.notChosen)).regex(
    /^(site|garden|bed):[0-9a-f-]{36}$/,
    said((w) => w.notChosen),
  ),
  sampledOn: date(),
  laboratory: text({ most: 80 }),
  depthMm: optional(depth('cm')),
})

const bandsInOrder = (given: { lowUnder: string | null; highFrom: string | null }) =>
  given.lowUnder === null || given.highFrom === null || Number(given.lowUnder) <= Number(given.highFrom)
const crossed = { error: () => wordsHere().soil.bandsCrossed, path: ['highFrom'] }

interface Measured {
  readonly analyte: string
  readonly value: Printed
  readonly unit: string
}

/**
 * "pH", "pH (water)"; water and salt solutions that soils are measured in give no value outside 0 to 14. No part of a
 * soil is more than all of it.
 */
function isPossible({ analyte, value, unit }: Measured): boolean {
  const most = /^ph\b/i.test(analyte) ? 14 : unit.trim() === '%' ? 100 : null
  return most === null || (Number(value.value) >= 0 && Number(value.value) <= most)
}
/** No laboratory that sells values errs by more than the value itself. */
const errorIsPossible = ({ value, standardError: error }: { value: Printed; standardError: StandardError | null }) =>
  error === null || error.of === 'percent' || Number(value.value) <= 0 || Number(error.digits) <= Number(value.value)
const errorTooLarge = { error: () => wordsHere().soil.errorTooLarge, path: ['standardError'] }
const notPossible = { error: () => wordsHere().soil.phOutside, path: ['value'] }

/** How many more values of one report are written in one form. */
export const moreValues = 11

/** A line of which nothing is filled in is not there. */
const isFilled = (line: unknown) => Object.values(fieldsOf(line)).some((cell) => String(cell).trim() !== '')
const ofLine = z
  .object(ofValue())
  .refine(bandsInOrder, crossed)
  .refine(isPossible, notPossible)
  .refine(errorIsPossible, errorTooLarge)
const lines = z
  .preprocess(
    (typed) => Object.fromEntries(Object.entries(fieldsOf(typed)).filter(([, line]) => isFilled(line))),
    z.record(z.string().regex(/^\d{1,2}$/), ofLine),
  )
  .transform((found) => Object.values(found))

/** The values of one report: what they have in common, the first of them, and as many more as were filled in. */
export const soilReportForm = z
  .object({ id: uuid(), ...ofTest(), more: lines.optional().transform((found) => found ?? []) })
  .refine(bandsInOrder, crossed)
  .refine(isPossible, notPossible)
  .refine(errorIsPossible, errorTooLarge)

export const soilTestForm = z
  .object({ id: uuid(), ...ofTest() })
  .refine(bandsInOrder, crossed)
  .refine(isPossible, notPossible)
  .refine(errorIsPossible, errorTooLarge)
export const soilTestCorrection = z
  .object(ofTest())
  .refine(bandsInOrder, crossed)
  .refine(isPossible, notPossible)
  .refine(errorIsPossible, errorTooLarge)

export type SoilTestGiven = z.infer<typeof soilTestCorrection>
