import { asShown, textIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatArea } from '../quantities/formatting.ts'
import { type AreaFrom, areaOn, lyingOn, sumOfAreas } from './areas-held.ts'

interface Rows {
  readonly sites: readonly { id: string; name: string; soil: string | null }[]
  readonly blocks: readonly { id: string; siteId: string; name: string; notes: string | null }[]
  readonly methods: readonly { id: string; name: string; workingRules: string }[]
  readonly gardens: readonly {
    id: string
    siteId: string
    name: string
    areas: readonly AreaFrom[]
    groundBefore: string | null
  }[]
  readonly beds: readonly { gardenId: string; areas: readonly AreaFrom[] }[]
}

export interface FormState {
  /** Which form was refused, with its messages and all that was typed. */
  readonly form: string
  readonly errors: Readonly<Record<string, string>>
  readonly typed: Readonly<Record<string, unknown>>
}

/** The ledger of gardens, and the forms that add to it. */
export function gardensPage(
  rows: Rows,
  { locale, today }: { readonly locale: string; readonly today: IsoDate },
  state: FormState | null,
  freshIds: Readonly<Record<string, string>>,
  firstBedName: string,
) {
  const beds = lyingOn(rows.beds, today)
  const siteName = new Map(rows.sites.map((site) => [site.id, site.name]))
  return {
    gardens: rows.gardens.map((garden) => {
      const own = beds.filter((bed) => bed.gardenId === garden.id)
      return {
        id: garden.id,
        name: garden.name,
        site: textIn(siteName, garden.siteId),
        gross: formatArea(areaOn(garden.areas, today), locale),
        beds: String(own.length),
        bedArea: formatArea(sumOfAreas(own), locale),
        before: asShown(garden.groundBefore),
      }
    }),
    methods: rows.methods.map(({ id, name, workingRules }) => ({ id, name, workingRules })),
    sites: rows.sites.map(({ id, name, soil }) => ({
      id,
      name,
      soil: asShown(soil),
      blocks: rows.blocks
        .filter((block) => block.siteId === id)
        .map((block) => ({ id: block.id, name: block.name, notes: asShown(block.notes) })),
    })),
    siteChoices: rows.sites.map(({ id, name }) => ({ value: id, label: name })),
    gardenChoices: rows.gardens.map(({ id, name }) => ({ value: id, label: name })),
    of: (form: string) => ({
      typed: state?.form === form ? state.typed : { id: freshIds[form], name: form === 'beds' ? firstBedName : '' },
      errors: state?.form === form ? state.errors : {},
      open: state?.form === form,
    }),
  }
}
