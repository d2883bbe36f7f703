import { type AreaFrom, areaOn, areaOver } from '../../gardens/areas-held.ts'
import { addDays, type IsoDate } from '../../quantities/dates.ts'
import { splitExactly } from '../../quantities/split-exactly.ts'

interface Season {
  readonly id: string
  readonly startsOn: IsoDate
  readonly endsOn: IsoDate
}

interface Bed {
  readonly id: string
  readonly areas: readonly AreaFrom[]
}

interface Raised {
  readonly seasonId: string
  readonly bedId: string
  readonly raisedInBedId: string | null
  readonly areaCm2: number
}

/** What of a total stays with the beds it was written for, and what goes to the beds that received what was raised. */
interface Divided {
  readonly rest: { readonly bedIds: readonly string[]; readonly amount: number }
  readonly parts: readonly { readonly bedId: string; readonly amount: number }[]
}

/**
 * A nursery bed's ground, and what is done on it, are those of the beds that received what was raised there in a
 * season, by the areas planted with it, exactly. In that season it is no bed by itself. What was raised for no bed
 * stays where it is.
 */
export function nurseries<B extends Bed>(beds: readonly B[], plantings: readonly Raised[], seasons: readonly Season[]) {
  const raised = new Map<string, Map<string, number>>()
  const seasonsRaising = new Set<string>()
  for (const { seasonId, raisedInBedId, bedId, areaCm2 } of plantings) {
    if (raisedInBedId === null) continue
    seasonsRaising.add(seasonId)
    const to = raised.get(`${raisedInBedId} ${seasonId}`) ?? new Map<string, number>()
    const before = to.get(bedId)
    raised.set(`${raisedInBedId} ${seasonId}`, to.set(bedId, before === undefined ? areaCm2 : before + areaCm2))
  }
  const bedOf = new Map(beds.map((bed) => [bed.id, bed]))
  const seasonOf = new Map(seasons.map((season) => [season.id, season]))
  const areaIn = (bedId: string, seasonId: string): number => {
    const [bed, season] = [bedOf.get(bedId), seasonOf.get(seasonId)]
    return bed && season ? areaOver(bed.areas, season) : 0
  }
  const partsOf = (bedId: string, seasonId: string, total: number) => {
    const to = [...(raised.get(`${bedId} ${seasonId}`) ?? [])]
    const amounts = splitExactly(
      total,
      to.map(([, area]) => area),
    )
    return to.map(([id], i) => ({ bedId: id, amount: nth(amounts, i) }))
  }
  const lying: readonly (B & { readonly lay?: readonly AreaFrom[] })[] =
    raised.size === 0
      ? beds
      : beds.map((bed) => {
          const areas = areasWith(bed, { raised, seasons, areaIn, partsOf })
          return areas === bed.areas ? bed : { ...bed, areas, lay: bed.areas }
        })
  return {
    beds: lying,
    /** The beds that something on these beds is counted for. */
    receiving: (seasonId: string, bedIds: readonly string[]): readonly string[] =>
      !seasonsRaising.has(seasonId)
        ? bedIds
        : [...new Set(bedIds.flatMap((id) => [...(raised.get(`${id} ${seasonId}`)?.keys() ?? [id])]))],
    /** Undefined where no nursery is among the beds. */
    divided: (seasonId: string, bedIds: readonly string[], total: number): Divided | undefined => {
      if (!seasonsRaising.has(seasonId) || !bedIds.some((id) => raised.has(`${id} ${seasonId}`))) return undefined
      const amounts = splitExactly(
        total,
        bedIds.map((id) => areaIn(id, seasonId)),
      )
      const own = bedIds.map((id, i) => ({ id, amount: nth(amounts, i), isNursery: raised.has(`${id} ${seasonId}`) }))
      const stays = own.filter((one) => !one.isNursery)
      return {
        rest: { bedIds: stays.map((one) => one.id), amount: stays.reduce((sum, one) => sum + one.amount, 0) },
        parts: own.flatMap((one) => (one.isNursery ? partsOf(one.id, seasonId, one.amount) : [])),
      }
    },
  }
}

/** Nothing where the whole is nothing: then there are no parts. */
function nth(amounts: readonly number[] | undefined, i: number): number {
  const amount = amounts?.[i]
  return amount === undefined ? 0 : amount
}

export type Nurseries = ReturnType<typeof nurseries>

interface Around {
  readonly raised: ReadonlyMap<string, ReadonlyMap<string, number>>
  readonly seasons: readonly Season[]
  readonly areaIn: (bedId: string, seasonId: string) => number
  readonly partsOf: (bedId: string, seasonId: string, total: number) => readonly { bedId: string; amount: number }[]
}

/** The areas of a bed: none in a season in which it was a nursery, and more in one in which it received from one. */
function areasWith(bed: Bed, { raised, seasons, areaIn, partsOf }: Around): readonly AreaFrom[] {
  let areas = bed.areas
  for (const season of seasons) {
    const own = [...raised].flatMap(([key, to]) => {
      const [from = '', seasonId] = key.split(' ')
      return seasonId === season.id && to.has(bed.id) ? [from] : []
    })
    const isNursery = raised.has(`${bed.id} ${season.id}`)
    if (!isNursery && own.length === 0) continue
    const more = own.flatMap((from) => partsOf(from, season.id, areaIn(from, season.id)))
    const added = more.filter((part) => part.bedId === bed.id).reduce((sum, part) => sum + part.amount, 0)
    const after = addDays(season.endsOn, 1)
    const areaCm2 = (isNursery ? 0 : areaIn(bed.id, season.id)) + added
    const outside = areas.filter(({ from }) => from === null || from < season.startsOn || from > after)
    areas = [...outside, { from: season.startsOn, areaCm2 }, { from: after, areaCm2: areaOn(bed.areas, after) }].sort(
      byDay,
    )
  }
  return areas
}

const byDay = (a: AreaFrom, b: AreaFrom): number => {
  if (a.from === b.from) return 0
  return a.from === null || (b.from !== null && a.from < b.from) ? -1 : 1
}
