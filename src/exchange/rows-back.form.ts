import { z } from 'zod'
import { text } from '../web/fields.ts'

export const takeBackForm = z.object({ reason: text({ most: 300 }) })
