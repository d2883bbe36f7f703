import { sent } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { firstDayOf, seenFrom } from '../seasons/days-of-season.ts'

/** A planting as it stands, and what it would be. */
interface Planting {
  readonly seasonId: string
  readonly how: string
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
  readonly clearedOn: IsoDate | null
  readonly cultivarId: string
  readonly bedId: string
  readonly matchedSetId: string | null
}

export interface PlantingTyped extends Planting {
  /** Whether a wrong cultivar or season was written for this one alone, or for all that it is matched with. */
  readonly together: 'alone' | 'together' | null
}

/** What the record holds that the correction of a planting is held against. */
export interface PlantingKnown {
  readonly today: IsoDate
  readonly stands: Planting
  /** Of the group, by their ids. */
  readonly seasons: ReadonlyMap<string, { readonly startsOn: IsoDate; readonly endsOn: IsoDate }>
  /** The first and the last day for which something of it was weighed or lost. */
  readonly written: { readonly first: string | null; readonly last: string | null }
  /** Sets of its season, of any cultivar. */
  readonly sets: readonly SetKnown[]
  /** How many others are in its matched set. */
  readonly matchedWith: number
  /** The garden of each bed of the group. */
  readonly gardenOfBed: ReadonlyMap<string, string>
  /** A crate of it waits under a label: a move would tell which. */
  readonly sealed: boolean
}

interface SetKnown {
  readonly id: string
  readonly cultivarId: string
  readonly windowFrom: IsoDate | null
  readonly windowTo: IsoDate | null
}

type PlantingRefused = {
  readonly kind: 'refused'
  readonly field: 'seasonId' | 'clearedOn' | 'sownOn' | 'plantedOn' | 'bedId' | 'together'
  readonly code: 'ahead' | 'dayOutside' | 'writtenLater' | 'writtenEarlier' | 'notChosen' | 'sealed' | 'whichOfSet'
}

interface Corrected {
  readonly kind: 'answer'
  readonly matchedSetId: string | null
  /** The set whose other plantings get the new cultivar too. */
  readonly setRenamed: string | null
  /** The set that counts, with all of it, toward another season. */
  readonly setMoved: string | null
  /** Set where it lies in another bed than before. */
  readonly movedTo: { readonly gardenId: string; readonly bedId: string } | null
}

const refuse = (field: PlantingRefused['field'], code: PlantingRefused['code']): PlantingRefused => ({
  kind: 'refused',
  field,
  code,
})

/** What a corrected planting must satisfy, with all that hangs on it. */
export function plantingCorrected(known: PlantingKnown, typed: PlantingTyped): Corrected | PlantingRefused {
  const gardenId = known.gardenOfBed.get(typed.bedId)
  if (gardenId === undefined) return refuse('bedId', 'notChosen')
  const season = known.seasons.get(typed.seasonId)
  if (season === undefined) return refuse('seasonId', 'notChosen')
  const moved = typed.bedId !== known.stands.bedId
  if (moved && known.sealed) return refuse('bedId', 'sealed')
  const wrongDay = dayRefused(known, season, typed)
  if (wrongDay) return wrongDay
  const renamed = typed.cultivarId !== known.stands.cultivarId
  const recounted = typed.seasonId !== known.stands.seasonId
  const ofSet = (renamed || recounted) && known.matchedWith > 0
  if (ofSet && typed.together === null) return refuse('together', 'whichOfSet')
  const whole = ofSet && typed.together === 'together'
  return {
    kind: 'answer',
    matchedSetId: whole
      ? known.stands.matchedSetId
      : recounted
        ? null
        : renamed
          ? setFor(known, typed)
          : typed.matchedSetId,
    setRenamed: whole && renamed ? known.stands.matchedSetId : null,
    setMoved: whole && recounted ? known.stands.matchedSetId : null,
    movedTo: moved ? { gardenId, bedId: typed.bedId } : null,
  }
}

function dayRefused(
  { today, written }: PlantingKnown,
  season: { readonly startsOn: IsoDate; readonly endsOn: IsoDate },
  typed: PlantingTyped,
): PlantingRefused | undefined {
  const { clearedOn, sownOn, plantedOn } = typed
  if (clearedOn !== null && clearedOn > today) return refuse('clearedOn', 'ahead')
  if (seenFrom(season, typed) === 'after') return refuse(firstDayOf(typed), 'dayOutside')
  if (written.last !== null && clearedOn !== null && clearedOn < written.last)
    return refuse('clearedOn', 'writtenLater')
  const begun = sownOn ?? plantedOn
  if (written.first === null || begun === null || begun <= written.first) return undefined
  return refuse(sownOn === null ? 'plantedOn' : 'sownOn', 'writtenEarlier')
}

/** A set of the cultivar that it turned out to be, whose window holds its day; none otherwise. */
function setFor({ sets }: PlantingKnown, typed: PlantingTyped): string | null {
  const day = sent(typed.sownOn ?? typed.plantedOn)
  const holds = (set: SetKnown) =>
    set.windowFrom !== null && set.windowTo !== null && set.windowFrom <= day && day <= set.windowTo
  return sets.find((set) => set.cultivarId === typed.cultivarId && holds(set))?.id ?? null
}
