import type { IsoDate } from '../quantities/dates.ts'

interface Season {
  readonly id: string
  readonly name: string
  readonly startsOn: IsoDate
  readonly endsOn: IsoDate
}

interface Assigned {
  readonly seasonId: string
  readonly gardenId: string
  readonly bedId: string | null
  readonly phase: string
}

interface Ground {
  readonly gardenId: string
  readonly bedIds: readonly string[]
}

interface When {
  readonly day: string
  /** As somebody said them; null where it is left to the day and the ground. */
  readonly seasonId: string | null
  readonly phase: string | null
}

export type CountedToward =
  | { readonly kind: 'answer'; readonly seasonId: string; readonly phase: string | null }
  | { readonly kind: 'refused'; readonly field: 'seasonId' | 'phase'; readonly code: Code; readonly name: string }

type Code = 'otherSeason' | 'noSeason' | 'otherPhase' | 'noPhase'

/**
 * What a spreading counts toward. A day within a season counts there; between two it is said (in winter most often the
 * next). The phase is the one that the ground has then; null where its beds differ, so that each has its own. Where
 * nothing is laid yet it is said.
 */
export function countedToward(
  seasons: readonly Season[],
  assignments: readonly Assigned[],
  ground: Ground,
  { day, seasonId, phase }: When,
): CountedToward {
  const byDay = seasons.find((one) => one.startsOn <= day && day <= one.endsOn)
  const season = byDay ?? seasons.find((one) => one.id === seasonId)
  if (!season) return { kind: 'refused', field: 'seasonId', code: 'noSeason', name: '' }
  if (seasonId !== null && seasonId !== season.id)
    return { kind: 'refused', field: 'seasonId', code: 'otherSeason', name: season.name }
  const phases = phasesOf(assignments, season.id, ground)
  const [only] = phases
  if (phases.size === 1 && only && phase !== null && phase !== only)
    return { kind: 'refused', field: 'phase', code: 'otherPhase', name: only }
  if (phases.size === 0 && phase === null) return { kind: 'refused', field: 'phase', code: 'noPhase', name: '' }
  return { kind: 'answer', seasonId: season.id, phase: only !== undefined && phases.size === 1 ? only : phase }
}

function phasesOf(assignments: readonly Assigned[], seasonId: string, { gardenId, bedIds }: Ground): Set<string> {
  const laid = assignments.filter((one) => one.seasonId === seasonId && one.gardenId === gardenId)
  const whole = laid.find((one) => one.bedId === null)?.phase
  const own = new Map(laid.map((one) => [one.bedId, one.phase]))
  return new Set(bedIds.map((bedId) => own.get(bedId) ?? whole).filter((phase) => phase !== undefined))
}
