import { z } from 'zod'
import { area, optionalText, text, uuid, wholeNumber } from '../web/fields.ts'

export const siteForm = z.object({ id: uuid(), name: text({ most: 80 }), soil: optionalText({ most: 300 }) })

export const methodForm = z.object({
  id: uuid(),
  name: text({ most: 80 }),
  workingRules: optionalText({ most: 2000 }).transform((rules) => rules ?? ''),
})

export const gardenForm = (unit: 'm2' | 'ft2') =>
  z.object({
    id: uuid(),
    siteId: uuid(),
    name: text({ most: 80 }),
    grossAreaCm2: area(unit),
    groundBefore: optionalText({ most: 300 }),
  })

export const bedsForm = (unit: 'm2' | 'ft2') =>
  z.object({
    id: uuid(),
    gardenId: uuid(),
    count: wholeNumber({ least: 1, most: 60 }),
    areaCm2: area(unit),
    name: text({ most: 40 }),
  })
