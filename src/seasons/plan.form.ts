import { z } from 'zod'
import { optional, wholeNumber } from '../web/fields.ts'

/** How many years a bed rests from a family: asked in the address of the plan. */
export const planAsked = z.object({ years: optional(wholeNumber({ least: 1, most: 20 })).optional() })
