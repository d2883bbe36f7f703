import type { IsoDate } from '../quantities/dates.ts'

export type Row = { readonly id: string; readonly [column: string]: string | number | null | object }

/** The demo's rows by table, without the group that they will belong to. */
export type Rows = ReturnType<typeof emptyRows>

export const emptyRows = () => ({
  sites: [] as Row[],
  methods: [] as Row[],
  gardens: [] as Row[],
  beds: [] as Row[],
  bedClosures: [] as Row[],
  seasons: [] as Row[],
  methodAssignments: [] as Row[],
  /** `crop` names a crop of the first list. */
  cultivars: [] as (Row & { readonly crop: string })[],
  matchedSets: [] as Row[],
  plantings: [] as Row[],
  containers: [] as Row[],
  harvests: [] as Row[],
  harvestShares: [] as Row[],
  losses: [] as Row[],
  labourEntries: [] as Row[],
  labourShares: [] as Row[],
  weekClosings: [] as Row[],
  inputs: [] as Row[],
  stocks: [] as Row[],
  deliveries: [] as Row[],
  applications: [] as Row[],
  soilTests: [] as Row[],
  fieldNotes: [] as Row[],
  counts: [] as Row[],
  weedPatches: [] as Row[],
  weatherDays: [] as Row[],
  decisions: [] as Row[],
  secondReadings: [] as Row[],
  questions: [] as Row[],
})

/** A planting while its season is made. */
export interface Planted {
  readonly id: string
  readonly crop: number
  readonly garden: number
  readonly season: number
  readonly sownOn: IsoDate
  readonly clearedOn: IsoDate
  lostFrom: IsoDate | null
}
