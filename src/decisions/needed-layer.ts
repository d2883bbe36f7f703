import { nutrientsIn } from '../inputs/nutrients.ts'
import type { HeldLimit } from '../soil/limits.ts'
import type { MadeUp } from '../soil/made-up-of.ts'
import { foundOfNitrogen } from '../soil/published-make-up.ts'

interface PerM2 {
  readonly nitrogen: number | null
  readonly phosphorus: number | null
  readonly potassium: number | null
}

/** Grams on a m2 that a millimetre of a product brings: of nitrogen what crops find in its first season too. */
interface PerMillimetre extends PerM2 {
  readonly nitrogenFound: number | null
}

interface Spread {
  readonly name: string
  readonly kind: string
  readonly rawManure: number
  readonly made: MadeUp
}

/** A millimetre on a m2 is a litre. Example: 600 g, half of it dry with 1.5 % N, are 4.5 g, of compost 0.54 g found. */
export function perMillimetre({ name, kind, rawManure, made }: Spread): PerMillimetre {
  const { nitrogenG, phosphorusG, potassiumG } = nutrientsIn(made.densityKgPerM3, made)
  const share = foundOfNitrogen({ name, kind, rawManure })?.[0]
  return {
    nitrogen: nitrogenG,
    nitrogenFound: nitrogenG === null || share === undefined ? null : nitrogenG * share,
    phosphorus: phosphorusG,
    potassium: potassiumG,
  }
}

interface Needs {
  readonly perMm: PerMillimetre
  /** What the crops took off a m2 in the season that counts; null while nothing was weighed. */
  readonly takenGPerM2: PerM2 | null
  /** Of nitrogen, what crops will find of earlier seasons' dressings. */
  readonly stillFoundGPerM2: number
  /** What the last test's laboratory calls high already. */
  readonly high: readonly LayerBy[]
  readonly limits: readonly HeldLimit[]
}

export type LayerBy = 'nitrogen' | 'phosphorus' | 'potassium'
/** Of two that ask for the same, the first is named. */
const layersBy: readonly LayerBy[] = ['phosphorus', 'nitrogen', 'potassium']

export interface NeededLayer {
  /** That replaces what crops took of each; null where it cannot be known, 0 where nothing is needed. */
  readonly by: Readonly<Record<LayerBy, number | null>>
  readonly missing: readonly LayerBy[]
  /** The thickest that no limit forbids; null where none holds. */
  readonly limitMm: number | null
  readonly limit: HeldLimit | null
  /** Null where no layer can be known. */
  readonly proposedMm: number | null
  readonly binds: LayerBy | 'limit' | null
}

/**
 * The depth of a dressing worked back from need: the layer that replaces what crops took by the nitrogen found in its
 * first season (less what they still find of earlier ones), by phosphorus and by potassium. The smallest is proposed,
 * so that nothing gathers, and no more than a limit allows; what it leaves short comes from elsewhere. Phosphorus that
 * a laboratory calls high already needs nothing, which a layer cannot leave out: then the smallest is none. Potassium
 * that is high asks for no layer, and does not forbid one.
 * Example: Montana State University, need 160 N, 50 P2O5 and 75 K2O lb an acre of a manure with 8.53 (available), 18
 * and 26 in a ton: 18.8, 2.8 and 2.9 tons, by phosphorus.
 */
export function neededLayer({ perMm, takenGPerM2, stillFoundGPerM2, high, limits }: Needs): NeededLayer {
  const per = { ...perMm, nitrogen: perMm.nitrogenFound }
  const needed = (of: LayerBy) => {
    if (of !== 'nitrogen' && high.includes(of)) return 0
    const taken = takenGPerM2?.[of] ?? null
    if (taken === null) return null
    return of === 'nitrogen' ? Math.max(0, taken - stillFoundGPerM2) : taken
  }
  const layer = (of: LayerBy) => layerFor(needed(of), per[of])
  const by = { nitrogen: layer('nitrogen'), phosphorus: layer('phosphorus'), potassium: layer('potassium') }
  const asking = layersBy.filter((of) => !(of === 'potassium' && high.includes(of)))
  const known = asking.flatMap((of) => (by[of] === null ? [] : [{ of, mm: by[of] }]))
  const least = known.toSorted((a, b) => a.mm - b.mm)[0]
  const tightest = limits
    .flatMap((limit) => {
      const mm = layerFor(limit.mostMgPerM2 / 1000, perMm[limit.nutrient])
      return mm === null ? [] : [{ mm, limit }]
    })
    .toSorted((a, b) => a.mm - b.mm)[0]
  const isLimited = least !== undefined && tightest !== undefined && tightest.mm < least.mm
  return {
    by,
    missing: layersBy.filter((of) => by[of] === null),
    limitMm: tightest?.mm ?? null,
    limit: tightest?.limit ?? null,
    proposedMm: least === undefined ? null : isLimited ? tightest.mm : least.mm,
    binds: least === undefined ? null : isLimited ? 'limit' : least.of,
  }
}

/** Nothing needed is no layer, whatever it brings; what brings nothing replaces nothing. */
function layerFor(grams: number | null, perMm: number | null): number | null {
  if (grams === null || grams === 0) return grams
  return perMm === null || perMm <= 0 ? null : grams / perMm
}

/** As it can be laid: tenths of a millimetre, and never beyond a limit. */
export const layable = ({ proposedMm, binds }: NeededLayer): number | null => {
  if (proposedMm === null) return null
  return (binds === 'limit' ? Math.floor(10 * proposedMm) : Math.round(10 * proposedMm)) / 10
}
