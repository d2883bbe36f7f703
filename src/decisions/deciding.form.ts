import { z } from 'zod'
import type { AreaUnit } from '../quantities/areas.ts'
import { area, decimal, labour, money, optional, optionalDate, wholeNumber } from '../web/fields.ts'
import { catalogue } from '../words/catalogue.ts'

const words = catalogue.deciding
const percent = () => decimal({ least: 0, most: 100 })
const seasons = () => decimal({ least: 0.5, most: 50 })

interface Group {
  readonly currency: string
  readonly areaUnit: AreaUnit
}

export const compostForm = ({ currency, areaUnit }: Group) =>
  z
    .object({
      area: area(areaUnit),
      depthMm: wholeNumber({ least: 1, most: 1000 }),
      seasons: wholeNumber({ least: 1, most: 50 }),
      wantedOn: optionalDate(),
      pricePerM3: optional(money(currency)),
      carriage: optional(money(currency)),
      density: wholeNumber({ least: 1, most: 20_000 }),
      moisture: decimal({ least: 0, most: 99 }),
      nitrogen: optional(percent()),
      phosphorus: optional(percent()),
      potassium: optional(percent()),
    })
    .transform((given) => ({
      plan: {
        ...{ areaCm2: given.area, depthMm: given.depthMm, densityKgPerM3: given.density },
        moisturePermille: Math.round(10 * given.moisture),
        nitrogenMgPerKg: inMg(given.nitrogen),
        phosphorusMgPerKg: inMg(given.phosphorus),
        potassiumMgPerKg: inMg(given.potassium),
        ...{ priceMinorPerM3: given.pricePerM3, carriageMinor: given.carriage ?? 0 },
      },
      ...{ seasons: given.seasons, wantedOn: given.wantedOn },
    }))

const inMg = (percentOfDry: number | null) => (percentOfDry === null ? null : Math.round(10_000 * percentOfDry))

export const restartForm = ({ currency, areaUnit }: Group) =>
  z
    .object({
      area: area(areaUnit),
      hoe: labour(),
      hoeLow: seasons(),
      hoeHigh: seasons(),
      cover: labour(),
      coveredLow: seasons(),
      coveredHigh: seasons(),
      kgPerM2: decimal({ least: 0, most: 100 }),
      kgPerHour: decimal({ least: 0.01, most: 1000 }),
      factor: decimal({ least: 1, most: 10 }),
      wage: optional(money(currency)),
      pricePerKg: optional(money(currency)),
      materials: optional(money(currency)),
    })
    .superRefine((given, context) => {
      const say = (path: string) =>
        context.addIssue({ code: 'custom', path: [path], message: words.restart.upsideDown })
      if (given.hoeHigh < given.hoeLow) say('hoeHigh')
      if (given.coveredHigh < given.coveredLow) say('coveredHigh')
    })
    .transform((given) => ({
      middle: {
        ...{
          areaCm2: given.area,
          hoeMinutesPerSeason: given.hoe.personMinutes,
          coverMinutes: given.cover.personMinutes,
        },
        hoeSeasons: (given.hoeLow + given.hoeHigh) / 2,
        coveredSeasons: (given.coveredLow + given.coveredHigh) / 2,
        ...{ yieldGPerM2: 1000 * given.kgPerM2, gramsPerHour: 1000 * given.kgPerHour },
      },
      hoeSeasons: { low: given.hoeLow, high: given.hoeHigh },
      coveredSeasons: { low: given.coveredLow, high: given.coveredHigh },
      factor: given.factor,
      worth:
        given.wage === null || given.pricePerKg === null
          ? null
          : {
              ...{ wageMinorPerHour: given.wage, priceMinorPerKg: given.pricePerKg },
              materialsMinor: given.materials ?? 0,
            },
    }))

export const thingForm = ({ currency }: Group) =>
  z
    .object({
      price: money(currency),
      salvage: optional(money(currency)),
      years: wholeNumber({ least: 1, most: 100 }),
      rate: decimal({ least: 0, most: 50 }),
      saved: labour(),
    })
    .refine((given) => (given.salvage ?? 0) <= given.price, { error: words.salvageTooHigh, path: ['salvage'] })
    .transform((given) => ({
      ...{ priceMinor: given.price, salvageMinor: given.salvage ?? 0, years: given.years, rate: given.rate / 100 },
      minutesSavedPerYear: given.saved.personMinutes,
    }))
