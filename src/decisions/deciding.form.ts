import { z } from 'zod'
import type { AreaUnit } from '../quantities/areas.ts'
import { area, decimal, labour, money, optional, optionalDate, thickness, wholeNumber } from '../web/fields.ts'
import { wordsHere } from '../web/words-here.ts'

const words = () => wordsHere().deciding
const percent = () => decimal({ least: 0, most: 100 })

interface Group {
  readonly currency: string
  readonly areaUnit: AreaUnit
}

export const compostForm = ({ currency, areaUnit }: Group) =>
  z
    .object({
      area: area(areaUnit),
      depthMm: thickness('mm').refine((mm) => mm <= 1000, { error: () => words().compost.tooDeep }),
      seasons: wholeNumber({ least: 1, most: 50 }),
      wantedOn: optionalDate(),
      pricePerM3: optional(money(currency)),
      carriage: optional(money(currency)),
      density: optional(wholeNumber({ least: 10, most: 3_000 })),
      moisture: optional(decimal({ least: 0, most: 99 })),
      nitrogen: optional(percent()),
      phosphorus: optional(percent()),
      potassium: optional(percent()),
    })
    .transform((given) => ({
      plan: {
        areaCm2: given.area,
        depthMm: given.depthMm,
        densityKgPerM3: given.density,
        moisturePermille: given.moisture === null ? null : Math.round(10 * given.moisture),
        nitrogenMgPerKg: inMg(given.nitrogen),
        phosphorusMgPerKg: inMg(given.phosphorus),
        potassiumMgPerKg: inMg(given.potassium),
        priceMinorPerM3: given.pricePerM3,
        // Carriage that nobody typed is not charged.
        carriageMinor: given.carriage ?? 0,
      },
      seasons: given.seasons,
      wantedOn: given.wantedOn,
    }))

const inMg = (percentOfDry: number | null) => (percentOfDry === null ? null : Math.round(10_000 * percentOfDry))

export const thingForm = ({ currency }: Group) =>
  z
    .object({
      price: money(currency),
      salvage: optional(money(currency)),
      years: wholeNumber({ least: 1, most: 100 }),
      rate: decimal({ least: 0, most: 50 }),
      saved: labour(),
    })
    // What fetches nothing at its end is worth nothing then.
    .refine((given) => (given.salvage ?? 0) <= given.price, { error: () => words().salvageTooHigh, path: ['salvage'] })
    .transform((given) => ({
      priceMinor: given.price,
      // The same.
      salvageMinor: given.salvage ?? 0,
      years: given.years,
      rate: given.rate / 100,
      minutesSavedPerYear: given.saved.personMinutes,
    }))
