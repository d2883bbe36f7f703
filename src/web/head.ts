import { firstOf } from '../lookups/nth.ts'

/** The parts of a group's pages, in the order of a year's work; and the rooms of the one that is open. */
type PartKey = 'home' | 'week' | 'season' | 'ground' | 'inputs' | 'compare' | 'decide' | 'reports'
type RoomKey =
  | 'gardens'
  | 'soil'
  | 'notes'
  | 'weather'
  | 'seasons'
  | 'plantings'
  | 'plan'
  | 'question'
  | 'layout'
  | 'close'
  | 'crops'
  | 'seasonEnd'
  | 'compost'
  | 'restart'
  | 'payBack'
  | 'value'
  | 'nextSeason'
  | 'decisions'
type GroupKey = 'people' | 'settings' | 'exchange' | 'history'

interface HeadLink<K extends string> {
  readonly key: K
  readonly address: string
  readonly current: boolean
}

interface Head {
  readonly parts: readonly HeadLink<PartKey>[]
  /** Side by side at the top of the page; empty where a part is one page. */
  readonly rooms: readonly HeadLink<RoomKey>[]
  readonly group: readonly HeadLink<GroupKey>[]
}

const parts: readonly { key: PartKey; at: string; also: readonly string[] }[] = [
  { key: 'home', at: '', also: [] },
  { key: 'week', at: 'weeks', also: [] },
  { key: 'season', at: 'seasons', also: ['crops', 'guesses'] },
  { key: 'ground', at: 'gardens', also: ['soil', 'notes', 'weather'] },
  { key: 'inputs', at: 'inputs', also: [] },
  { key: 'compare', at: 'compare', also: [] },
  { key: 'decide', at: 'decide', also: ['decisions'] },
  { key: 'reports', at: 'reports', also: [] },
]

const ground: readonly { key: RoomKey; at: string }[] = [
  { key: 'gardens', at: 'gardens' },
  { key: 'soil', at: 'soil' },
  { key: 'notes', at: 'notes' },
  { key: 'weather', at: 'weather' },
]

const decide: readonly { key: RoomKey; at: string }[] = [
  { key: 'seasonEnd', at: 'decide' },
  { key: 'compost', at: 'decide/compost' },
  { key: 'restart', at: 'decide/restart' },
  { key: 'payBack', at: 'decide/pay-back' },
  { key: 'value', at: 'decide/value' },
  { key: 'nextSeason', at: 'decide/next-season' },
  { key: 'decisions', at: 'decisions' },
]

const ofSeason: readonly { key: RoomKey; at: string }[] = [
  { key: 'plantings', at: '' },
  { key: 'plan', at: '/plan' },
  { key: 'question', at: '/question' },
  { key: 'layout', at: '/layout' },
  { key: 'close', at: '/close' },
]

/** What the head shows at an address of a group; `address` as it was asked for, with or without a query. */
export function headOf(slug: string, address: string): Head {
  const base = `/g/${slug}`
  const here = firstOf(address.split('?')).slice(base.length + 1)
  const under = (at: string) => here === at || here.startsWith(`${at}/`)
  const to = (at: string) => (at === '' ? base : `${base}/${at}`)
  const open = parts.find(({ at, also }) => (at === '' ? here === '' : [at, ...also].some(under)))
  return {
    parts: parts.map(({ key, at }) => ({ key, address: to(at), current: open?.key === key })),
    rooms: roomsOf(open?.key, here).map(({ key, at }) => ({ key, address: to(at), current: isRoom(at, here) })),
    group: (['people', 'settings', 'exchange', 'history'] as const).map((key) => ({
      key,
      address: to(key),
      current: under(key),
    })),
  }
}

function roomsOf(part: PartKey | undefined, here: string): readonly { key: RoomKey; at: string }[] {
  if (part === 'ground') return ground
  if (part === 'decide') return decide
  if (part !== 'season') return []
  const season = /^(?:seasons|guesses)\/([^/]+)/.exec(here)?.[1]
  const all = { key: 'seasons', at: 'seasons' } as const
  const crops = { key: 'crops', at: 'crops' } as const
  const own = season ? ofSeason.map(({ key, at }) => ({ key, at: `seasons/${season}${at}` })) : []
  return [all, ...own, crops]
}

/** A room with rooms beneath it is open only where it is asked for itself. */
function isRoom(at: string, here: string): boolean {
  return /^(decide|seasons(\/[^/]+)?)$/.test(at) ? here === at : here === at || here.startsWith(`${at}/`)
}
