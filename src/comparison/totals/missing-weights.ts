import { rowsWith } from '../../lookups/rows-with.ts'
import { asShown, textIn } from '../../lookups/unsaid.ts'
import type { IsoWeek } from '../../quantities/iso-week.ts'
import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import { closedWeeks } from '../record/closed-weeks.ts'
import { nearWeeks, seasonWeeks, weeksOfSeason } from '../record/near-weeks.ts'
import type { PlantingRecord, TrialRecord } from '../record/trial-record.ts'
import { weighedOf } from '../record/weighed-of.ts'
import { methodsOfBeds } from './method-totals.ts'

/** How many closed weeks near an open one must be there, before their most can stand for what it may hold. */
export const fewestNearWeeks = 5

/**
 * The record with the matched plantings of one method at the most that their open weeks can plausibly hold: in each
 * open week in which it stood, the most that the same crop gave per m2 in a closed week of that garden within three
 * calendar weeks, weeks of nothing among them; never less than what is entered. The record itself is the low end.
 * Unchanged where no week is open; refused where fewer than five such weeks are closed. Worst case after Manski 1989,
 * Journal of Human Resources 24:343-360.
 */
export function atMostWeights(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodId: string,
): Answer<{ readonly record: TrialRecord; readonly openWeeks: number }> | Refusal {
  const added = addedAtMost(record, seasonIds, methodId, (planting) => planting.matchedSetId !== null)
  if (added.kind === 'refused') return added
  const { more, openWeeks } = added
  const plantings = record.plantings.map((one) => {
    const own = more.get(one.id)
    if (!own) return one
    return {
      ...one,
      marketableG: one.marketableG + own.marketableG,
      unmarketableG: one.unmarketableG + own.unmarketableG,
    }
  })
  return answer({ record: { ...record, plantings }, openWeeks })
}

/** What the open weeks of a method's plantings can hold at most beyond what is entered, in grams by planting. */
export function addedAtMost(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodId: string,
  meant: (planting: PlantingRecord) => boolean,
): Answer<{ readonly more: ReadonlyMap<string, More>; readonly openWeeks: number }> | Refusal {
  const gardenOf = new Map(record.beds.map((bed) => [bed.id, bed.gardenId]))
  const more = new Map<string, More>()
  let openWeeks = 0
  for (const seasonId of seasonIds) {
    const methodOf = methodsOfBeds(record, seasonId)
    const openIn = new Map<string, readonly SeasonWeek[]>()
    for (const planting of rowsWith(record.plantings, 'seasonId', seasonId)) {
      if (!meant(planting) || methodOf.get(planting.bedId) !== methodId) continue
      const gardenId = textIn(gardenOf, planting.bedId)
      const open = openIn.get(gardenId) ?? openWeeksIn(record, seasonId, gardenId)
      openIn.set(gardenId, open)
      for (const week of weeksStanding(record, planting, open)) {
        const near = nearYields(record, planting, gardenId, { week, methodId })
        const weeks = new Set(near.map((one) => one.week)).size
        if (weeks < fewestNearWeeks) return refused('too few', `${weeks} closed weeks near ${week}`)
        const added = moreThanEntered(planting, week, near)
        const sum = more.get(planting.id) ?? nothingMore
        more.set(planting.id, {
          marketableG: sum.marketableG + added.marketableG,
          unmarketableG: sum.unmarketableG + added.unmarketableG,
        })
        openWeeks += 1
      }
    }
  }
  return answer({ more, openWeeks })
}

/** What may have been there beyond what was entered. */
interface More {
  readonly marketableG: number
  readonly unmarketableG: number
}

const nothingMore: More = { marketableG: 0, unmarketableG: 0 }

type SeasonWeek = ReturnType<typeof weeksOfSeason>[number]

function openWeeksIn(record: TrialRecord, seasonId: string, gardenId: string) {
  const closed = closedWeeks(record, gardenId, 'weights')
  return weeksOfSeason(record, seasonId).filter(({ week }) => !closed.has(week))
}

/** Those of some weeks of its season in which a planting stood at all; none where its days are not known. */
function weeksStanding(record: TrialRecord, planting: PlantingRecord, among: readonly SeasonWeek[]): IsoWeek[] {
  if (among.length === 0) return []
  const season = record.seasons.find((one) => one.id === planting.seasonId)
  if (!season || !planting.from) return []
  const to = planting.to ?? season.endsOn
  const ends = to < season.endsOn ? to : season.endsOn
  return among.filter(({ monday, next }) => monday <= ends && next > asShown(planting.from)).map((one) => one.week)
}

interface Near {
  readonly week: IsoWeek
  readonly methodId: string
}

interface Yield {
  readonly week: string
  /** Grams per cm2 in one closed week. */
  readonly marketable: number
  readonly unmarketable: number
}

/** What the same crop gave under that method in that garden, in closed weeks near one; weeks of nothing among them. */
function nearYields(
  record: TrialRecord,
  planting: PlantingRecord,
  gardenId: string,
  { week, methodId }: Near,
): Yield[] {
  const beds = new Set(record.beds.filter((bed) => bed.gardenId === gardenId).map((bed) => bed.id))
  const closed = closedWeeks(record, gardenId, 'weights')
  return record.seasons.flatMap((season) => {
    const methodOf = methodsOfBeds(record, season.id)
    const weeks = nearWeeks(seasonWeeks(record, season.id), week).filter((near) => closed.has(near))
    const kin = rowsWith(record.plantings, 'seasonId', season.id).filter(
      (one) =>
        one.crop === planting.crop &&
        (one.establishing ?? false) === (planting.establishing ?? false) &&
        beds.has(one.bedId) &&
        methodOf.get(one.bedId) === methodId,
    )
    return kin.flatMap((one) => {
      const standing = new Set(weeksStanding(record, one, weeksOfSeason(record, season.id)))
      return weeks.filter((near) => standing.has(near)).map((near) => perArea(one, near))
    })
  })
}

function perArea(planting: PlantingRecord, week: string): Yield {
  const entered = enteredIn(planting, week)
  return {
    week,
    marketable: entered.marketableG / planting.areaCm2,
    unmarketable: entered.unmarketableG / planting.areaCm2,
  }
}

function enteredIn(planting: PlantingRecord, week: string) {
  const own = weighedOf(planting).filter((one) => one.isoWeek === week)
  return {
    marketableG: own.reduce((sum, one) => sum + one.marketableG, 0),
    unmarketableG: own.reduce((sum, one) => sum + one.unmarketableG, 0),
  }
}

function moreThanEntered(planting: PlantingRecord, week: string, near: readonly Yield[]) {
  const entered = enteredIn(planting, week)
  const most = (of: 'marketable' | 'unmarketable') =>
    Math.round(planting.areaCm2 * Math.max(...near.map((one) => one[of])))
  return {
    marketableG: Math.max(0, most('marketable') - entered.marketableG),
    unmarketableG: Math.max(0, most('unmarketable') - entered.unmarketableG),
  }
}
