import { z } from 'zod'
import type { AreaUnit } from '../quantities/areas.ts'
import { area, date, optionalText, text, uuid } from '../web/fields.ts'

const base = { id: uuid(), fromDay: date(), closedReason: optionalText({ most: 300 }).optional() }
const name = () => text({ most: 40 })

/** What can be done to the ground of a garden, each with its own form; the keys are their addresses too. */
export const groundForms = (unit: AreaUnit) => ({
  added: z.object({ ...base, name: name(), areaCm2: area(unit) }),
  resized: z.object({ ...base, bedId: uuid(), areaCm2: area(unit) }),
  parted: z.object({ ...base, bedId: uuid(), name: name(), areaCm2: area(unit) }),
  joined: z.object({ ...base, bedId: uuid(), otherId: uuid() }),
  'given-up': z.object({ ...base, bedId: uuid() }),
  gross: z.object({ ...base, areaCm2: area(unit) }),
})

export type GroundAsked = keyof ReturnType<typeof groundForms>
export const groundActs = ['added', 'resized', 'parted', 'joined', 'given-up', 'gross'] as const
