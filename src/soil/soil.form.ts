import { z } from 'zod'
import { date, length, optional, optionalText, printed, said, text, uuid } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'

const ofTest = () => ({
  place: z.string(said((w) => w.notChosen)).regex(
    /^(site|garden|bed):[0-9a-f-]{36}$/,
    said((w) => w.notChosen),
  ),
  sampledOn: date(),
  laboratory: text({ most: 80 }),
  analyte: text({ most: 60 }),
  extractant: optionalText({ most: 60 }),
  value: printed(),
  unit: text({ most: 20 }),
  depthMm: optional(length('cm')),
  lowUnder: optional(printed()),
  highFrom: optional(printed()),
})

const bandsInOrder = (given: { lowUnder: string | null; highFrom: string | null }) =>
  given.lowUnder === null || given.highFrom === null || Number(given.lowUnder) <= Number(given.highFrom)
const crossed = { error: () => wordsHere().soil.bandsCrossed, path: ['highFrom'] }

/** "pH", "pH (water)"; water and salt solutions that soils are measured in give no value outside 0 to 14. */
const isPossible = ({ analyte, value }: { analyte: string; value: string }) =>
  !/^ph\b/i.test(analyte) || (Number(value) >= 0 && Number(value) <= 14)
const notPossible = { error: () => wordsHere().soil.phOutside, path: ['value'] }

export const soilTestForm = z
  .object({ id: uuid(), ...ofTest() })
  .refine(bandsInOrder, crossed)
  .refine(isPossible, notPossible)
export const soilTestCorrection = z.object(ofTest()).refine(bandsInOrder, crossed).refine(isPossible, notPossible)

export type SoilTestGiven = z.infer<typeof soilTestCorrection>
