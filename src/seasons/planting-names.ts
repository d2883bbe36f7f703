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
  const ofList = made.get(plantings) ?? new Map<string, ReadonlyMap<string, string>>()
  made.set(plantings, ofList)
  const names = ofList.get(locale) ?? makeNames(plantings, locale)
  ofList.set(locale, names)
  return names
}

/** Made once for each list that was read: several parts of a page ask for them. */
const made = new WeakMap<readonly Called[], Map<string, ReadonlyMap<string, string>>>()

function makeNames(plantings: readonly Called[], locale: string): ReadonlyMap<string, string> {
  const alike = new Map<string, Lying[]>()
  const kind = (one: Called) => `${one.bedId} ${cropAndCultivar(one)}`
  const lying = plantings.map((one) => ({
    one,
    from: inBedFrom(one),
    until: one.clearedOn && addDays(one.clearedOn, daysOfOneWeek),
  }))
  for (const own of lying) {
    const { one } = own
    const others = alike.get(kind(one))
    if (others) others.push(own)
    else alike.set(kind(one), [own])
  }
  const dated = (own: Lying) => {
    const { one } = own
    const others = alike.get(kind(one)) ?? []
    const mixedUp = others.flatMap((other) => (other === own || mayBeMixedUp(own, other) ? other.one : []))
    if (mixedUp.length < 2) return cropAndCultivar(one)
    const name = datedName(one, locale)
    const sameDay = mixedUp.filter((other) => datedName(other, locale) === name)
    const number = sameDay.findIndex((other) => other.id === one.id) + 1
    return sameDay.length === 1 ? name : words.oneOf(name, number, sameDay.length)
  }
  return new Map(lying.map((own) => [own.one.id, dated(own)]))
}

function datedName(one: Called, locale: string): string {
  const day = formatDay(inBedFrom(one), locale)
  const planted = one.sownOn === null || (one.how === 'transplanted' && one.plantedOn !== null)
  return planted ? words.plantedOf(cropAndCultivar(one), day) : words.sownOf(cropAndCultivar(one), day)
}

/** A planting with the days on which it may be mixed up with another in its bed. */
interface Lying {
  readonly one: Called
  readonly from: string
  readonly until: string | null
}

const daysOfOneWeek = 6

const mayBeMixedUp = (own: Lying, other: Lying) =>
  own.one.seasonId === other.one.seasonId || (comesBefore(own, other) && comesBefore(other, own))

/** Whether one is there before the other is gone, or in the same week. */
const comesBefore = (own: Lying, other: Lying) => other.until === null || own.from <= other.until
