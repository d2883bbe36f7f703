import { z } from 'zod'
import { text } from '../web/fields.ts'

export const endingForm = z.object({ reason: text({ most: 500 }) })
