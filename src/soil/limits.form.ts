import { z } from 'zod'
import { recordOf } from '../lookups/keys.ts'
import { choice, date, optional, perArea, text, uuid } from '../web/fields.ts'
import { limitedNutrients, limitedSources, limitNames } from './limits.ts'

const ofLimit = () => ({
  source: choice(limitedSources),
  nutrient: choice(limitedNutrients),
  mostMgPerM2: optional(perArea()),
  rule: text({ most: 160 }),
  fromDay: date(),
})

export const limitForm = z.object({ id: uuid(), ...ofLimit() })
export const limitCorrection = z.object(ofLimit())

/** Limits as they stand in an address, for a look: in milligrams a m2, null where a field is blank. */
export const limitsLookedAt = z.object(
  recordOf(
    limitNames.map(({ name }) => name),
    () => optional(perArea()),
  ),
)
