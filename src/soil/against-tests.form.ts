import { z } from 'zod'
import { decimal, wholeNumber } from '../web/fields.ts'

/** What the sum takes for granted, as it stands in the address. */
export const againstForm = z.object({
  bulkDensity: decimal({ least: 0.2, most: 2 }),
  laboratoryError: decimal({ least: 0, most: 100 }),
  seasons: wholeNumber({ least: 1, most: 50 }),
})

/** Ten per cent is how far values of one sample lie apart between laboratories and days, where nobody says better. */
export const againstToBeginWith = { bulkDensity: '1.2', laboratoryError: '10', seasons: '5' } as const
