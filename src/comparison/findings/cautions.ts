import { rowsWith } from '../../lookups/rows-with.ts'
import { asShown, numberIn } from '../../lookups/unsaid.ts'
import type { Pair } from '../matched/matched-season.ts'
import { matchedSeason } from '../matched/matched-season.ts'
import { seasonsAmong, type TrialRecord } from '../record/trial-record.ts'
import { methodsOfBeds } from '../totals/method-totals.ts'
import { regrouped } from '../totals/regrouped.ts'

/** What else can fool, as codes with figures: each is said only where the record shows that it applies to these two. */
export type Caution =
  | { readonly code: 'ground before' }
  | { readonly code: 'uniform year'; readonly ratio: number; readonly season: string }
  | { readonly code: 'no uniform year' }
  | { readonly code: 'unlike ages'; readonly a: number; readonly b: number }
  | { readonly code: 'first years' }
  | { readonly code: 'unlike people' }
  | { readonly code: 'exposure' }
  | { readonly code: 'two sites' }
  | { readonly code: 'restarted bed' }
  | { readonly code: 'land elsewhere'; readonly kinds: readonly string[] }
  | { readonly code: 'changed after closing'; readonly rows: number }

/** In an order of weight: the ground first, since nothing in the weights can undo it. */
export function cautionsOf(record: TrialRecord, seasonIds: readonly string[], pair: Pair): Caution[] {
  const sides = [pair.methodA, pair.methodB].map((id) => groundUnder(record, seasonIds, id))
  const [a, b] = sides
  if (!a || !b) return []
  return [
    ...(apart(a.before, b.before) ? [{ code: 'ground before' as const }] : []),
    ...uniformYears(record, a.gardens, b.gardens),
    ...(apart(a.exposure, b.exposure) ? [{ code: 'exposure' as const }] : []),
    ...(apart(a.sites, b.sites) ? [{ code: 'two sites' as const }] : []),
    ...ages(record, seasonIds, pair),
    ...(unlikePeople(record, seasonIds, pair) ? [{ code: 'unlike people' as const }] : []),
    ...(restarted(record, seasonIds, pair) ? [{ code: 'restarted bed' as const }] : []),
    ...landElsewhere(record, seasonIds, pair),
    ...changed(record, seasonIds),
  ]
}

function groundUnder(record: TrialRecord, seasonIds: readonly string[], methodId: string) {
  const own = new Set(seasonIds.flatMap((id) => bedsOf(record, id, methodId).map((bed) => bed.gardenId)))
  const gardens = record.gardens.filter((garden) => own.has(garden.id))
  const said = (of: 'groundBefore' | 'exposure' | 'siteId') =>
    new Set(gardens.flatMap((garden) => garden[of]?.trim().toLowerCase() ?? []))
  return {
    gardens: gardens.map((one) => one.id),
    before: said('groundBefore'),
    exposure: said('exposure'),
    sites: said('siteId'),
  }
}

function bedsOf(record: TrialRecord, seasonId: string, methodId: string) {
  const methodOf = methodsOfBeds(record, seasonId)
  return record.beds.filter((bed) => methodOf.get(bed.id) === methodId)
}

/** Both sides say something, and nothing that they say is the same. */
const apart = (a: ReadonlySet<string>, b: ReadonlySet<string>) =>
  a.size > 0 && b.size > 0 && [...a].every((one) => !b.has(one))

/** The ratio of the two gardens in a year in which both were worked alike: what the ground alone does. */
function uniformYears(record: TrialRecord, a: readonly string[], b: readonly string[]): Caution[] {
  const [gardenA, gardenB] = [a[0], b[0]]
  if (a.length !== 1 || b.length !== 1 || !gardenA || !gardenB || gardenA === gardenB) return []
  const uniform = record.seasons.filter((season) => season.uniform)
  if (uniform.length === 0) return [{ code: 'no uniform year' }]
  const byGarden = regrouped(record, 'garden')
  return uniform.flatMap((season): Caution[] => {
    const found = matchedSeason(byGarden, season.id, { methodA: gardenA, methodB: gardenB })
    if (found.kind === 'refused') return []
    return [{ code: 'uniform year', ratio: Math.exp(found.logRatio), season: season.name }]
  })
}

/** Like ages are compared with like: the years of each method on its ground, in the latest of these seasons. */
function ages(record: TrialRecord, seasonIds: readonly string[], { methodA, methodB }: Pair): Caution[] {
  const of = (methodId: string) => {
    const own = record.assignments.filter((one) => one.methodId === methodId)
    const laid = seasonsAmong(record, seasonIds).filter((season) => own.some((one) => one.seasonId === season.id))
    const last = own.filter((one) => one.seasonId === laid.at(-1)?.id)
    // A year nobody wrote is not taken for a long one.
    return Math.max(0, ...last.map((one) => one.yearOfMethod ?? 0))
  }
  const [a, b] = [of(methodA), of(methodB)]
  if (a === 0 || b === 0) return []
  return [
    ...(a === b ? [] : [{ code: 'unlike ages' as const, a, b }]),
    ...(Math.min(a, b) <= 2 ? [{ code: 'first years' as const }] : []),
  ]
}

/** The one who did most of the work that names somebody is not the same in the two. */
function unlikePeople(record: TrialRecord, seasonIds: readonly string[], { methodA, methodB }: Pair): boolean {
  const most = (methodId: string) => {
    const sums = new Map<string, number>()
    for (const seasonId of seasonIds) {
      const own = new Set(bedsOf(record, seasonId, methodId).map((bed) => bed.id))
      // What was written for a garden holds one list of beds in common with all that was.
      const lists = new Map<readonly string[], boolean>()
      const isUnder = (bedIds: readonly string[]) => {
        const known = lists.get(bedIds) ?? bedIds.some((id) => own.has(id))
        lists.set(bedIds, known)
        return known
      }
      for (const entry of rowsWith(record.labour, 'seasonId', seasonId)) {
        if (!entry.who || !isUnder(entry.bedIds)) continue
        sums.set(entry.who, numberIn(sums, entry.who) + (entry.times ?? 1) * entry.personMinutes)
      }
    }
    return [...sums].sort((x, y) => y[1] - x[1] || (x[0] < y[0] ? -1 : 1))[0]?.[0]
  }
  const [a, b] = [most(methodA), most(methodB)]
  return a !== undefined && b !== undefined && a !== b
}

function restarted(record: TrialRecord, seasonIds: readonly string[], { methodA, methodB }: Pair): boolean {
  return seasonIds.some((id) => {
    const season = record.seasons.find((one) => one.id === id)
    const own = new Set([...bedsOf(record, id, methodA), ...bedsOf(record, id, methodB)].map((bed) => bed.id))
    return (record.closures ?? []).some(
      (one) =>
        own.has(one.bedId) &&
        one.fromDay <= asShown(season?.endsOn) &&
        (one.toDay ?? '9999') >= asShown(season?.startsOn),
    )
  })
}

/** Materials that grew, or were made, on other land: they carry its yield and its weeds with them. */
const grownElsewhere = ['compost', 'mulch', 'manure']

function landElsewhere(record: TrialRecord, seasonIds: readonly string[], { methodA, methodB }: Pair): Caution[] {
  const kinds = (methodId: string) => {
    const own = new Set(seasonIds.flatMap((id) => bedsOf(record, id, methodId).map((bed) => bed.id)))
    const bought = record.spreadings.filter(
      (one) =>
        seasonIds.includes(one.seasonId) && one.cashMinor === one.costMinor && one.bedIds.some((id) => own.has(id)),
    )
    return new Set(bought.flatMap((one) => (one.kind && grownElsewhere.includes(one.kind) ? [one.kind] : [])))
  }
  const [a, b] = [kinds(methodA), kinds(methodB)]
  const differ = [...new Set([...a, ...b])].filter((kind) => a.has(kind) !== b.has(kind)).sort()
  return differ.length === 0 ? [] : [{ code: 'land elsewhere', kinds: differ }]
}

function changed(record: TrialRecord, seasonIds: readonly string[]): Caution[] {
  const rows = record.seasons
    .filter((season) => seasonIds.includes(season.id))
    .reduce((sum, season) => sum + season.changedSince, 0)
  return rows === 0 ? [] : [{ code: 'changed after closing', rows }]
}
