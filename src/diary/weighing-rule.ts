import type { IsoDate } from '../quantities/dates.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { daysOf } from '../quantities/iso-week.ts'
import { gardenOf, type Known, type KnownPlanting, labelKey, sealedKey, weekIsClosed, weighedKey } from './known.ts'
import { type RowRefusal, type Ruled, refuse } from './refusal.ts'
import { countsForYield, isState, type State } from './state.ts'
import { dayRefused, isMuch, isPickedLater, seasonOfPlanting, standingRefused, weighingRefused } from './week-rules.ts'

export interface WeighingTyped {
  readonly id: string
  readonly isoWeek: IsoWeek
  /** One planting, or the several that a shared crate came from; of a labelled crate only its label is known. */
  readonly from: readonly string[] | { readonly label: string }
  /** How a shared crate is divided; null for a weighing of one planting. */
  readonly shareRule: 'area' | 'plants' | 'given' | null
  readonly shares: ReadonlyMap<string, number>
  readonly harvestedOn: IsoDate
  readonly marketable: number | null
  readonly unmarketable: number | null
  readonly why: string | null
  readonly containerId: string | null
  readonly pieces: number | null
  /** Left out or null: the state that its crop counts. */
  readonly state?: State | null
  /** Left out or null: on the day it was weighed. */
  readonly liftedOn?: IsoDate | null
  /** An earlier weighing of the same lot, by its id. */
  readonly sameLotAs?: string | null
  readonly seedLot?: string | null
  readonly source: 'field' | 'paper'
  /** Of a row that is corrected, and stays with its planting: the season it counts in, closed or not. */
  readonly countedIn?: string | null
  readonly surely: boolean
}

export interface WeighingRow {
  readonly harvest: {
    readonly id: string
    readonly seasonId: string
    readonly plantingId: string | null
    readonly shareRule: string | null
    readonly harvestedOn: IsoDate
    readonly isoWeek: IsoWeek
    readonly marketableG: number
    readonly unmarketableG: number
    readonly unmarketableReason: string | null
    readonly grossG: number | null
    readonly containerId: string | null
    readonly pieces: number | null
    readonly state: State
    readonly counts: number
    readonly liftedOn: IsoDate | null
    readonly sameLotAs: string | null
    readonly seedLot: string | null
    readonly source: string
  }
  /** Of a shared crate. */
  readonly shares: readonly { readonly plantingId: string; readonly share: number | null }[]
}

/** What every door asks of a weighing: sheet, form, label, file and correction call this and nothing beside it. */
export function weighingRuled(known: Known, typed: WeighingTyped): Ruled<WeighingRow> {
  const found = plantingsMeant(known, typed)
  if (found.kind === 'refused') return found
  const from = found.row
  const weighedAs = stateOf(known, typed, from)
  if (weighedAs.kind === 'refused') return weighedAs
  const what = weighedAs.row
  const refused = timeAndPlace(known, typed, { from, state: what.state }) ?? divided(typed, from)
  if (refused) return refused
  const season = seasonOf(known, typed, { from, counts: what.counts })
  if (season.kind === 'refused') return season
  const net = netOf(known, typed)
  if (net.kind === 'refused') return net
  const row = { harvestedOn: typed.harvestedOn, ...net.row }
  const question = typed.surely ? undefined : questionOf(known, typed, { from, row })
  if (question) return question
  const [first] = from
  return {
    kind: 'answer',
    row: {
      harvest: {
        id: typed.id,
        seasonId: season.row,
        plantingId: typed.shareRule === null ? first.id : null,
        shareRule: typed.shareRule,
        isoWeek: typed.isoWeek,
        unmarketableReason: row.unmarketableG > 0 ? typed.why : null,
        containerId: typed.containerId,
        pieces: typed.pieces,
        source: typed.source,
        ...row,
        ...what,
      },
      shares: typed.shareRule === null ? [] : from.map(({ id }) => ({ plantingId: id, share: shareOf(typed, id) })),
    },
  }
}

type Plantings = readonly [KnownPlanting, ...KnownPlanting[]]

const shareOf = (typed: WeighingTyped, plantingId: string) => typed.shares.get(plantingId) ?? null

/**
 * The plantings behind the choice. One that lies under a sealed label is weighed by the label, and never by its name.
 */
function plantingsMeant(known: Known, { from, isoWeek }: WeighingTyped): Ruled<Plantings> {
  if ('label' in from) {
    const found = known.labels.get(labelKey(from.label.toUpperCase(), isoWeek))
    const planting = found && known.plantings.get(found.plantingId)
    if (!found || !planting) return refuse('from', 'noSuchLabel')
    return found.sealed ? { kind: 'answer', row: [planting] } : refuse('from', 'isClosed')
  }
  const plantings = [...new Set(from)].flatMap((id) => known.plantings.get(id) ?? [])
  const [first, ...rest] = plantings
  if (!first || plantings.length !== new Set(from).size) return refuse('from', 'notChosen')
  if (plantings.some(({ id }) => known.sealed.has(sealedKey(id, isoWeek)))) return refuse('from', 'byItsLabel')
  return { kind: 'answer', row: [first, ...rest] }
}

/** Whether plantings could be weighed on that day: the week, what stood, one season, an open week. */
function timeAndPlace(
  known: Known,
  typed: WeighingTyped,
  { from, state }: { readonly from: Plantings; readonly state: State },
): RowRefusal | undefined {
  const { harvestedOn, isoWeek, liftedOn = null } = typed
  if (liftedOn !== null && liftedOn > harvestedOn) return refuse('lifted', 'liftedLater')
  const wrongDay = dayRefused({ day: harvestedOn, daysOfWeek: daysOf(isoWeek), today: known.today })
  if (wrongDay) return refuse('day', wrongDay)
  // What is kept is weighed after it was cleared; what was lifted stood on the day it was lifted.
  const stood = liftedOn ?? (state === 'fresh' ? harvestedOn : null)
  const standing = from
    .map((one) => (stood === null ? weighingRefused(one, harvestedOn) : standingRefused(one, stood)))
    .find(Boolean)
  if (standing) return refuse('day', standing)
  const gardenIds = from.map((planting) => gardenOf(known, planting))
  return weekIsClosed(known, 'weights', gardenIds, isoWeek) ? refuse('from', 'isClosed') : undefined
}

type What = Pick<WeighingRow['harvest'], 'state' | 'counts' | 'liftedOn' | 'sameLotAs' | 'seedLot'>

/** What was weighed, and whether that counts: as its crop says on the day it is written down. */
function stateOf(known: Known, typed: WeighingTyped, from: Plantings): Ruled<What> {
  const { liftedOn = null, sameLotAs = null, seedLot = null } = typed
  const [counting = 'fresh', ...others] = new Set(from.map((one) => one.weighedAs ?? 'fresh'))
  if (others.length > 0 && !typed.state) return refuse('from', 'twoStates')
  const state = typed.state ?? (isState(counting) ? counting : 'fresh')
  if (state === 'seed' && seedLot === null) return refuse('seedLot', 'lotMissing')
  if (state !== 'seed' && seedLot !== null) return refuse('seedLot', 'lotOfNoSeed')
  const before = sameLotAs === null ? undefined : known.lots?.get(sameLotAs)
  if (
    sameLotAs !== null &&
    (from.length > 1 || before?.plantingId !== from[0].id || before.harvestedOn > typed.harvestedOn)
  )
    return refuse('sameLot', 'otherLot')
  const counts = countsForYield({ state, counting, before }) ? 1 : 0
  return { kind: 'answer', row: { state, counts, liftedOn, sameLotAs, seedLot } }
}

/** One season for all of a crate: each planting says its own. What does not count moves no season. */
function seasonOf(
  known: Known,
  { harvestedOn, liftedOn, countedIn }: WeighingTyped,
  { from, counts }: { readonly from: Plantings; readonly counts: number },
): Ruled<string> {
  const seasons = counts === 1 ? known.seasons : known.seasons.map((one) => ({ ...one, closed: false }))
  const found = from.map((one) =>
    seasonOfPlanting(seasons, one, { day: liftedOn ?? harvestedOn, written: harvestedOn }),
  )
  const refused = found.find((one) => one.kind === 'refused')
  if (refused?.kind === 'refused' && countedIn) return { kind: 'answer', row: countedIn }
  if (refused?.kind === 'refused') return refuse('day', refused.code, { crop: from[0].crop })
  const [seasonId, ...others] = new Set(found.flatMap((one) => (one.kind === 'answer' ? [one.seasonId] : [])))
  if (seasonId === undefined || others.length > 0) return refuse('from', 'twoSeasons')
  return { kind: 'answer', row: seasonId }
}

function divided(typed: WeighingTyped, from: Plantings): RowRefusal | undefined {
  const uncounted = typed.shareRule === 'plants' ? from.find((one) => one.plants === null) : undefined
  if (uncounted) return refuse('from', 'plantsMissing', { crop: uncounted.crop })
  const noShare = typed.shareRule === 'given' && from.every(({ id }) => !shareOf(typed, id))
  return noShare ? refuse('from', 'sharesMissing') : undefined
}

interface Net {
  readonly marketableG: number
  readonly unmarketableG: number
  readonly grossG: number | null
}

/** The container's empty weight comes off the marketable weight, or off the other where only that was weighed. */
function netOf(known: Known, typed: WeighingTyped): Ruled<Net> {
  const { marketable, unmarketable, why, containerId } = typed
  if (marketable === null && unmarketable === null) return refuse('marketable', 'nothingWeighed')
  // The question under the box says so: an empty second number is none.
  const bad = unmarketable ?? 0
  if (bad > 0 && why === null) return refuse('why', 'whyMissing')
  if (bad === 0 && why !== null) return refuse('why', 'whyOfNothing')
  if (containerId === null) {
    // Of a weighing one number at least was typed; the other is none.
    return { kind: 'answer', row: { marketableG: marketable ?? 0, unmarketableG: bad, grossG: null } }
  }
  const tareG = known.containers.get(containerId)
  if (tareG === undefined) return refuse('container', 'notChosen')
  const grossG = marketable ?? bad
  if (grossG < tareG) return refuse('marketable', 'lessThanTare')
  const net = grossG - tareG
  return marketable === null
    ? { kind: 'answer', row: { marketableG: 0, unmarketableG: net, grossG } }
    : { kind: 'answer', row: { marketableG: net, unmarketableG: bad, grossG } }
}

interface Weighed {
  readonly from: Plantings
  readonly row: Omit<Net, 'grossG'> & { readonly harvestedOn: IsoDate }
}

/** What is possible and yet unlikely is asked about once: the same weight again, what was lost before, a great deal. */
function questionOf(known: Known, typed: WeighingTyped, { from, row }: Weighed): RowRefusal | undefined {
  const [first] = from
  const alike = typed.shareRule === null ? (known.weighed.get(weighedKey(first.id, row)) ?? []) : []
  if (alike.some((id) => id !== typed.id)) return refuse('surely', 'sameAsk')
  const grams = row.marketableG + row.unmarketableG
  const label = 'label' in typed.from ? { label: typed.from.label } : undefined
  const gone = from.map(({ id }) => known.gone.get(id)).find((day) => day !== undefined && day <= row.harvestedOn)
  // Of a label it is not asked: few plantings are lost, and the question would tell which one the crate is of.
  if (gone !== undefined && grams > 0 && !label) return refuse('surely', 'goneAsk', { crop: first.crop, day: gone })
  const later = label ? undefined : from.find((one) => isPickedLater(known.seasons, one, row.harvestedOn))
  if (later) return refuse('surely', 'pickedAsk', { crop: later.crop })
  if (!isMuch(grams, from)) return undefined
  const areaCm2 = from.reduce((sum, one) => sum + one.areaCm2, 0)
  return refuse('surely', 'muchAsk', label ?? { grams, areaCm2, crop: first.crop })
}
