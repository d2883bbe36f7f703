import { linkOf } from '../lookups/unsaid.ts'
import { catalogue } from '../words/catalogue.ts'

interface Rows {
  readonly gardens: readonly { readonly id: string; readonly name: string }[]
  readonly beds: readonly { readonly id: string; readonly gardenId: string; readonly name: string }[]
  readonly methods: readonly { readonly id: string; readonly name: string }[]
  /** Those of one season. */
  readonly laid: readonly { readonly gardenId: string; readonly bedId: string | null; readonly methodId: string }[]
}

/** A garden, or the beds of one method in a garden that is split: in each of them one bed is chosen for a cultivar. */
export interface GardenPart {
  /** Of the field: the garden's id, and the method's where the garden holds several. */
  readonly key: string
  readonly gardenId: string
  readonly name: string
  readonly beds: readonly { readonly value: string; readonly label: string }[]
}

/** Where a cultivar has to stand so that every method of every garden has it. */
export function gardenParts({ gardens, beds, methods, laid }: Rows): GardenPart[] {
  const ofBed = new Map(laid.flatMap((one) => (one.bedId === null ? [] : [[one.bedId, one.methodId] as const])))
  const ofGarden = new Map(laid.filter((one) => one.bedId === null).map((one) => [one.gardenId, one.methodId]))
  return gardens.flatMap((garden) => {
    const own = beds.filter((bed) => bed.gardenId === garden.id)
    const methodOf = (bed: { id: string }) => linkOf(ofBed.get(bed.id) ?? ofGarden.get(garden.id))
    const choices = (some: typeof own) => some.map(({ id, name }) => ({ value: id, label: name }))
    const held = [...new Set(own.map(methodOf))]
    if (held.length < 2) return [{ key: garden.id, gardenId: garden.id, name: garden.name, beds: choices(own) }]
    return held.map((methodId) => {
      const method = methods.find((one) => one.id === methodId)?.name
      const name = method === undefined ? garden.name : catalogue.seasons.partOf(garden.name, method)
      const some = own.filter((bed) => methodOf(bed) === methodId)
      return { key: `${garden.id}-${methodId}`, gardenId: garden.id, name, beds: choices(some) }
    })
  })
}
