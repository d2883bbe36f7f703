import { held } from '../../lookups/held.ts'
import { addDays, daysBetween, type IsoDate } from '../../quantities/dates.ts'
import { hostsOf, isInBedOn, type OverDays } from '../../seasons/put-into.ts'

interface Season {
  readonly startsOn: IsoDate
  readonly endsOn: IsoDate
}

/** A planting in its bed, with the season whose figures are asked for. */
interface InSeason {
  readonly own: OverDays
  /** Its first day in the season, or before it where it counts toward none earlier. */
  readonly from: IsoDate
  readonly season: Season
  /** All that is grown for its harvest in the bed, itself among it. */
  readonly inBed: readonly OverDays[]
}

/**
 * The ground that a planting counts in a season, in whole cm2, where crops overlap on purpose: each day's ground counts
 * once. On a day on which one stands in another, the ground that both have is divided between them by their areas (4 m2
 * of radish between 4 m2 of carrot: 2 m2 each, 1 m2 between 4 m2: 0.8 and 3.2); its ground is the mean of its days, as
 * far as the season goes. What nothing overlaps counts whole. That is a rule of this house: trials of mixed crops often
 * give the yield of each crop on the whole ground instead (the land equivalent ratio of Mead and Willey, 1980,
 * Experimental Agriculture 16, 217-228), which counts the same ground twice.
 */
export function groundBeside({ own, from, season, inBed }: InSeason): number {
  const until = own.until === null || own.until > season.endsOn ? addDays(season.endsOn, 1) : own.until
  const days = [from, ...inBed.flatMap((one) => [one.from, one.until ?? until]), until]
    .filter((day) => day >= from && day <= until)
    .sort()
  const length = daysBetween(from, until)
  if (length <= 0) return own.areaCm2
  const sum = days.reduce((total, day, i) => {
    const next = days[i + 1]
    return next === undefined || next === day ? total : total + daysBetween(day, next) * shareOn(own, inBed, day)
  }, 0)
  return Math.max(1, Math.round(sum / length))
}

/** Its part of the ground on one day, in cm2. */
function shareOn(own: OverDays, inBed: readonly OverDays[], day: string): number {
  const guests = inBed.filter((one) => one.interplanted === 1 && isInBedOn(one, day))
  const hosts = new Map(guests.map((guest) => [guest, hostsOf(guest, inBed).filter((host) => isInBedOn(host, day))]))
  /** The part of each of its hosts that a guest stands in: at most the whole. */
  const taken = (guest: OverDays) => {
    const area = sumOf(held(hosts, guest))
    return area === 0 ? 0 : Math.min(guest.areaCm2, area) / area
  }
  const divided = (host: OverDays) =>
    1 + guests.reduce((sum, guest) => sum + (held(hosts, guest).includes(host) ? taken(guest) : 0), 0)
  if (own.interplanted === 0) return own.areaCm2 / divided(own)
  const mine = held(hosts, own)
  const within = mine.reduce((sum, host) => sum + (taken(own) * host.areaCm2) / divided(host), 0)
  return own.areaCm2 - taken(own) * sumOf(mine) + within
}

const sumOf = (plantings: readonly OverDays[]): number => plantings.reduce((sum, one) => sum + one.areaCm2, 0)

/**
 * The ground of what stands over seasons in the season in which it was grubbed up, where nothing was picked of it then
 * and nothing lost: the mean of the days of the season, since it holds the bed no longer. Picked, it counts whole like
 * each crop that goes after its harvest; lost, whole because a failure counts with its area.
 */
export const groundUntil = (areaCm2: number, clearedOn: IsoDate, { startsOn, endsOn }: Season): number =>
  Math.max(1, Math.round((areaCm2 * (daysBetween(startsOn, clearedOn) + 1)) / (daysBetween(startsOn, endsOn) + 1)))
