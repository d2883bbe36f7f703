import { addDays, type IsoDate } from '../quantities/dates.ts'
import { formatDay } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import { inBedFrom } from './bed-course.ts'

/** A planting as far as its name goes. */
export interface Called {
  readonly id: string
  readonly seasonId: string
  readonly bedId: string
  readonly crop: string
  readonly cultivar: string
  readonly how: string
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
  readonly clearedOn: IsoDate | null
}

const words = catalogue.seasons

export const cropAndCultivar = ({ crop, cultivar }: Pick<Called, 'crop' | 'cultivar'>) => `${crop}, ${cultivar}`

/**
 * What every planting is called, by its id: crop and cultivar, and the day it came into its bed where another of the
 * same name shares that bed, in one season or in one week of two. Two of one day are numbered in the order of the list.
 */
export function plantingNames(plantings: readonly Called[], locale: string): ReadonlyMap<string, string> {
  const alike = new Map<string, Called[]>()
  const kind = (one: Called) => `${one.bedId} ${cropAndCultivar(one)}`
  for (const one of plantings) {
    const others = alike.get(kind(one))
    if (others) others.push(one)
    else alike.set(kind(one), [one])
  }
  const dated = (one: Called) => {
    const others = alike.get(kind(one)) ?? []
    const mixedUp = others.filter((other) => other.id === one.id || mayBeMixedUp(one, other))
    if (mixedUp.length < 2) return cropAndCultivar(one)
    const name = datedName(one, locale)
    const sameDay = mixedUp.filter((other) => datedName(other, locale) === name)
    const number = sameDay.findIndex((other) => other.id === one.id) + 1
    return sameDay.length === 1 ? name : words.oneOf(name, number, sameDay.length)
  }
  return new Map(plantings.map((one) => [one.id, dated(one)]))
}

function datedName(one: Called, locale: string): string {
  const day = formatDay(inBedFrom(one), locale)
  const planted = one.sownOn === null || (one.how === 'transplanted' && one.plantedOn !== null)
  return planted ? words.plantedOf(cropAndCultivar(one), day) : words.sownOf(cropAndCultivar(one), day)
}

const mayBeMixedUp = (one: Called, other: Called) =>
  one.seasonId === other.seasonId || (comesBefore(one, other) && comesBefore(other, one))

/** Whether one is there before the other is gone, or in the same week. */
const comesBefore = (one: Called, other: Called) =>
  other.clearedOn === null || inBedFrom(one) <= addDays(other.clearedOn, 6)
