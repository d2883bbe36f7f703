import { z } from 'zod'
import { date, length, optional, optionalText, printed, text, uuid } from '../web/fields.ts'
import { catalogue } from '../words/catalogue.ts'

const ofTest = () => ({
  place: z.string(catalogue.fields.notChosen).regex(/^(site|garden|bed):[0-9a-f-]{36}$/, catalogue.fields.notChosen),
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
const crossed = { error: catalogue.soil.bandsCrossed, path: ['highFrom'] }

export const soilTestForm = z.object({ id: uuid(), ...ofTest() }).refine(bandsInOrder, crossed)
export const soilTestCorrection = z.object(ofTest()).refine(bandsInOrder, crossed)

export type SoilTestGiven = z.infer<typeof soilTestCorrection>
