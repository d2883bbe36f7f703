import { textIn } from '../lookups/unsaid.ts'
/**
 * What a season's assignments make of the ground: which kind of trial it is, what its error term is, and what it is
 * about.
 */
export type How = 'choice' | 'random' | 'rotation'

export type LayoutKind =
  | 'nothing laid'
  | 'one garden a method'
  | 'one bed a method'
  | 'beds of one garden'
  | 'blocks of beds'
  | 'gardens'
  | 'gardens within sites'
  | 'split gardens'
  | 'uneven'

/**
 * What an answer would be about; decided by the layout alone, before any result (Hurlbert 1984, Ecol Monogr 54:187).
 */
export type Scope = 'thesePlots' | 'methodAtSite' | 'methodElsewhere'

interface Ground {
  readonly gardens: readonly { readonly id: string; readonly siteId: string }[]
  readonly beds: readonly { readonly id: string; readonly gardenId: string; readonly blockId: string | null }[]
}

export interface Laid {
  readonly gardenId: string
  readonly bedId: string | null
  readonly methodId: string
  readonly how: string
}

export interface Layout {
  readonly kind: LayoutKind
  readonly scope: Scope
  /** What is counted as one replicate of a method. */
  readonly unit: 'garden' | 'bed' | null
  /** Units by method, in the order in which the methods were first met. */
  readonly units: ReadonlyMap<string, number>
  /** Degrees of freedom of the error term within one season; null where there is none. */
  readonly df: number | null
  /** At random only where every place was drawn; by rotation only where every place was turned. */
  readonly how: How
  /** Methods with a single unit: they cannot be told from that unit. */
  readonly alone: readonly string[]
}

/** One bed with the method on it; a bed's own assignment overrules its garden's. */
interface Cell {
  readonly bedId: string
  readonly gardenId: string
  readonly siteId: string
  readonly blockId: string | null
  readonly methodId: string
  readonly how: string
}

/**
 * Reads one season's layout. Gardens come first: beds of one garden are replicates of a method only where no other
 * garden carries the comparison. A garden under several methods is a block that holds them.
 */
export function readLayout(ground: Ground, laid: readonly Laid[]): Layout {
  const cells = cellsOf(ground, laid)
  const methods = new Set(cells.map((cell) => cell.methodId))
  const gardens = new Set(cells.map((cell) => cell.gardenId))
  const how = howOf(cells)
  if (methods.size < 2) return made('nothing laid', { how, units: countUnits(cells, 'gardenId'), unit: null, df: null })
  if (gardens.size === 1) return withinOneGarden(cells, methods.size, how)
  const units = countUnits(cells, 'gardenId')
  const pairs = new Set(cells.map((cell) => `${cell.gardenId} ${cell.methodId}`)).size
  if (pairs === gardens.size) return wholeGardens(cells, gardens.size, { units, how })
  if (pairs === gardens.size * methods.size) {
    return made('split gardens', { how, units, unit: 'garden', df: (gardens.size - 1) * (methods.size - 1) })
  }
  const df = pairs - gardens.size - methods.size + islandsOf(cells)
  return made('uneven', { how, units, unit: 'garden', df: df > 0 ? df : null })
}

interface Found {
  readonly units: ReadonlyMap<string, number>
  readonly how: How
}

function wholeGardens(cells: readonly Cell[], gardens: number, { units, how }: Found): Layout {
  const methods = units.size
  if ([...units.values()].every((count) => count === 1)) {
    return made('one garden a method', { how, units, unit: null, df: null })
  }
  const sites = holdersOf(cells, (cell) => cell.siteId)
  if (sites.count > 1 && sites.complete) {
    const df = gardens - methods - sites.count + 1
    if (df > 0) return made('gardens within sites', { how, units, unit: 'garden', df })
  }
  return made('gardens', { how, units, unit: 'garden', df: gardens - methods })
}

function withinOneGarden(cells: readonly Cell[], methods: number, how: How): Layout {
  const units = countUnits(cells, 'bedId')
  const blocks = holdersOf(cells, (cell) => cell.blockId)
  const blocked = cells.length - methods - blocks.count + 1
  if (blocks.count > 1 && blocks.complete && blocked > 0) {
    return made('blocks of beds', { how, units, unit: 'bed', df: blocked })
  }
  const df = cells.length - methods
  if (df < 1) return made('one bed a method', { how, units, unit: null, df: null })
  return made('beds of one garden', { how, units, unit: 'bed', df })
}

function made(kind: LayoutKind, found: Found & Pick<Layout, 'unit' | 'df'>): Layout {
  const replicated = found.unit !== null && found.df !== null
  const alone = replicated ? [...found.units].filter(([, count]) => count === 1).map(([id]) => id) : []
  return { kind, scope: replicated ? scopeOf[found.unit] : 'thesePlots', ...found, alone }
}

const scopeOf = { bed: 'methodAtSite', garden: 'methodElsewhere' } as const

function cellsOf({ gardens, beds }: Ground, laid: readonly Laid[]): Cell[] {
  const siteOf = new Map(gardens.map((garden) => [garden.id, garden.siteId]))
  const ofGarden = new Map(laid.filter((one) => one.bedId === null).map((one) => [one.gardenId, one]))
  const ofBed = new Map(laid.filter((one) => one.bedId !== null).map((one) => [one.bedId, one]))
  return beds.flatMap((bed) => {
    const own = ofBed.get(bed.id) ?? ofGarden.get(bed.gardenId)
    if (!own) return []
    const at = { bedId: bed.id, gardenId: bed.gardenId, blockId: bed.blockId, siteId: textIn(siteOf, bed.gardenId) }
    return [{ ...at, methodId: own.methodId, how: own.how }]
  })
}

function countUnits(cells: readonly Cell[], unit: 'gardenId' | 'bedId'): Map<string, number> {
  const units = new Map<string, Set<string>>()
  for (const cell of cells) units.set(cell.methodId, (units.get(cell.methodId) ?? new Set()).add(cell[unit]))
  return new Map([...units].map(([methodId, own]) => [methodId, own.size]))
}

/** How many holders there are, and whether each of them holds every method; a cell without one makes it incomplete. */
function holdersOf(cells: readonly Cell[], holderOf: (cell: Cell) => string | null) {
  const methods = new Set(cells.map((cell) => cell.methodId)).size
  const holders = new Map<string | null, Set<string>>()
  for (const cell of cells) {
    const holder = holderOf(cell)
    holders.set(holder, (holders.get(holder) ?? new Set()).add(cell.methodId))
  }
  const complete = !holders.has(null) && [...holders.values()].every((held) => held.size === methods)
  return { count: holders.size, complete }
}

/** Groups of gardens and methods that no garden joins: methods of two islands are never side by side. */
function islandsOf(cells: readonly Cell[]): number {
  const island = new Map<string, string>()
  const rootOf = (name: string): string => {
    const up = island.get(name) ?? name
    return up === name ? name : rootOf(up)
  }
  for (const cell of cells) island.set(rootOf(`garden ${cell.gardenId}`), rootOf(`method ${cell.methodId}`))
  const names = cells.flatMap((cell) => [`garden ${cell.gardenId}`, `method ${cell.methodId}`])
  return new Set(names.map(rootOf)).size
}

function howOf(cells: readonly Cell[]): How {
  if (cells.length > 0 && cells.every((cell) => cell.how === 'random')) return 'random'
  return cells.length > 0 && cells.every((cell) => cell.how === 'rotation') ? 'rotation' : 'choice'
}
