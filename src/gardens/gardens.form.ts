import { z } from 'zod'
import { sent } from '../lookups/unsaid.ts'
import type { AreaUnit } from '../quantities/areas.ts'
import { area, date, optional, optionalDate, optionalText, text, uuid, wholeNumber } from '../web/fields.ts'

export const siteForm = z.object({
  id: uuid(),
  name: text({ most: 80 }),
  soil: optionalText({ most: 300 }),
  exposure: optionalText({ most: 300 }),
})

export const blockForm = z.object({
  id: uuid(),
  siteId: uuid(),
  name: text({ most: 80 }),
  notes: optionalText({ most: 300 }),
})

export const methodForm = z.object({
  id: uuid(),
  name: text({ most: 80 }),
  workingRules: optionalText({ most: 2000 }).transform(sent),
  establishingSeasons: optional(wholeNumber({ least: 1, most: 100 })),
})

const aboutGarden = (unit: AreaUnit) => ({
  name: text({ most: 80 }),
  grossAreaCm2: area(unit),
  groundBefore: optionalText({ most: 300 }),
  exposure: optionalText({ most: 300 }),
  soil: optionalText({ most: 300 }),
})

export const gardenForm = (unit: AreaUnit) => z.object({ id: uuid(), siteId: uuid(), ...aboutGarden(unit) })

/** The place in the walk is counted from 1 by people and from 0 in the record. */
export const gardenCorrection = (unit: AreaUnit) =>
  z.object({
    ...aboutGarden(unit),
    position: wholeNumber({ least: 1, most: 1000 }).transform((place) => place - 1),
  })

export const bedsForm = (unit: AreaUnit) =>
  z.object({
    id: uuid(),
    gardenId: uuid(),
    count: wholeNumber({ least: 1, most: 60 }),
    areaCm2: area(unit),
    name: text({ most: 40 }),
    thereSince: optionalDate(),
  })

export const bedCorrection = (unit: AreaUnit) =>
  z.object({
    name: text({ most: 40 }),
    areaCm2: area(unit),
    thereSince: optionalDate(),
    blockId: optional(uuid()),
  })

/** An area from a day on; none is ground given up. */
export const bedAreaCorrection = (unit: AreaUnit) =>
  // An empty field is ground given up, as its label says.
  z.object({ fromDay: date(), areaCm2: optional(area(unit)).transform((cm2) => cm2 ?? 0) })

export const gardenAreaCorrection = (unit: AreaUnit) => z.object({ fromDay: date(), grossAreaCm2: area(unit) })
