import type { AreaFrom } from '../gardens/areas-held.ts'

/** A place that a sample can come from: a whole site, a garden of it, or a bed. */
export interface SamplePlace {
  /** "site:<id>", "garden:<id>" or "bed:<id>" */
  readonly value: string
  readonly siteId: string
  readonly gardenId: string | null
  readonly bedId: string | null
  /** Of a bed: its areas with the days from which they hold. */
  readonly areas: readonly AreaFrom[]
  readonly site: string
  readonly garden: string
  readonly bed: string
}

interface Ground {
  readonly sites: readonly { id: string; name: string }[]
  readonly gardens: readonly { id: string; siteId: string; name: string }[]
  readonly beds: readonly { id: string; gardenId: string; name: string; areas: readonly AreaFrom[] }[]
}

/** Each site whole, then its gardens in the order in which they are walked, each followed by its beds. */
export function samplePlaces({ sites, gardens, beds }: Ground): SamplePlace[] {
  return sites.flatMap((site): SamplePlace[] => {
    const whole = { siteId: site.id, gardenId: null, bedId: null, areas: [], site: site.name, garden: '', bed: '' }
    return [
      { ...whole, value: `site:${site.id}` },
      ...gardens
        .filter((garden) => garden.siteId === site.id)
        .flatMap((garden): SamplePlace[] => {
          const inGarden = { ...whole, gardenId: garden.id, garden: garden.name }
          return [
            { ...inGarden, value: `garden:${garden.id}` },
            ...beds
              .filter((bed) => bed.gardenId === garden.id)
              .map((bed) => ({ ...inGarden, bedId: bed.id, areas: bed.areas, bed: bed.name, value: `bed:${bed.id}` })),
          ]
        }),
    ]
  })
}

interface Placed {
  readonly siteId: string
  readonly gardenId: string | null
  readonly bedId: string | null
}

export const placeValue = ({ siteId, gardenId, bedId }: Placed): string =>
  bedId ? `bed:${bedId}` : gardenId ? `garden:${gardenId}` : `site:${siteId}`
