/** Milligrams in a kilogram of dry matter, of the element. What a label gives as an oxide is another type. */
type ElementMgPerKg = number & { readonly unit: 'mg/kg of the element' }
type OxideMgPerKg = number & { readonly unit: 'mg/kg of the oxide' }

/** Standard atomic weights, IUPAC (abridged): phosphorus, potassium, oxygen. */
const [phosphorus, potassium, oxygen] = [30.973761998, 39.0983, 15.999]

/** P in P2O5: 0.4364268. */
export const phosphorusInOxide = (2 * phosphorus) / (2 * phosphorus + 5 * oxygen)
/** K in K2O: 0.8301513. */
export const potassiumInOxide = (2 * potassium) / (2 * potassium + oxygen)

const phosphorusOf = (oxide: OxideMgPerKg) => Math.round(oxide * phosphorusInOxide) as ElementMgPerKg
const potassiumOf = (oxide: OxideMgPerKg) => Math.round(oxide * potassiumInOxide) as ElementMgPerKg

/** Per cent of dry matter as typed, in mg/kg. */
const fromPercent = (percent: number) => Math.round(percent * 10_000)

interface Typed {
  readonly basis: 'element' | 'oxide'
  readonly nitrogen: number | null
  readonly phosphorus: number | null
  readonly potassium: number | null
}

/** An analysis as it is stored: elements, mg in a kilogram of dry matter; what was not typed stays unknown. */
export function asElements({ basis, nitrogen, phosphorus, potassium }: Typed) {
  const elementOr = (percent: number | null, fromOxide: (oxide: OxideMgPerKg) => number) => {
    if (percent === null) return null
    return basis === 'oxide' ? fromOxide((percent * 10_000) as OxideMgPerKg) : fromPercent(percent)
  }
  return {
    nitrogenMgPerKg: nitrogen === null ? null : fromPercent(nitrogen),
    phosphorusMgPerKg: elementOr(phosphorus, phosphorusOf),
    potassiumMgPerKg: elementOr(potassium, potassiumOf),
  }
}

export interface Analysis {
  readonly moisturePermille: number | null
  readonly nitrogenMgPerKg: number | null
  readonly phosphorusMgPerKg: number | null
  readonly potassiumMgPerKg: number | null
}

/** Grams of each nutrient that a fresh mass carries; null for each that cannot be known. */
export function nutrientsIn(freshG: number | null, analysis: Analysis) {
  const dry =
    freshG === null || analysis.moisturePermille === null ? null : (freshG * (1000 - analysis.moisturePermille)) / 1000
  const of = (mgPerKg: number | null) => (dry === null || mgPerKg === null ? null : (dry * mgPerKg) / 1_000_000)
  return {
    dryG: dry,
    nitrogenG: of(analysis.nitrogenMgPerKg),
    phosphorusG: of(analysis.phosphorusMgPerKg),
    potassiumG: of(analysis.potassiumMgPerKg),
  }
}
