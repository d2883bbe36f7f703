import type { IsoDate } from '../quantities/dates.ts'

export type Row = { readonly id: string; readonly [column: string]: string | number | null | object }

/** The demo's rows by table, without the group that they will belong to. */
export interface Rows {
  readonly sites: Row[]
  readonly methods: Row[]
  readonly gardens: Row[]
  readonly beds: Row[]
  readonly bedClosures: Row[]
  readonly seasons: (Row & { readonly startsOn: IsoDate; readonly endsOn: IsoDate })[]
  readonly methodAssignments: Row[]
  /** `crop` names a crop of the first list. */
  readonly cultivars: (Row & { readonly crop: string })[]
  readonly matchedSets: Row[]
  readonly plantings: Row[]
  readonly containers: Row[]
  readonly harvests: Row[]
  readonly harvestShares: Row[]
  readonly losses: Row[]
  readonly labourEntries: Row[]
  readonly labourShares: Row[]
  readonly weekClosings: Row[]
  readonly inputs: Row[]
  readonly measures: Row[]
  readonly stocks: Row[]
  readonly deliveries: Row[]
  readonly applications: Row[]
  readonly soilTests: Row[]
  readonly fieldNotes: Row[]
  readonly counts: Row[]
  readonly weedPatches: Row[]
  readonly weatherDays: Row[]
  readonly decisions: Row[]
  readonly secondReadings: Row[]
  readonly questions: Row[]
}

export const emptyRows = (): Rows => ({
  sites: [],
  methods: [],
  gardens: [],
  beds: [],
  bedClosures: [],
  seasons: [],
  methodAssignments: [],
  cultivars: [],
  matchedSets: [],
  plantings: [],
  containers: [],
  harvests: [],
  harvestShares: [],
  losses: [],
  labourEntries: [],
  labourShares: [],
  weekClosings: [],
  inputs: [],
  measures: [],
  stocks: [],
  deliveries: [],
  applications: [],
  soilTests: [],
  fieldNotes: [],
  counts: [],
  weedPatches: [],
  weatherDays: [],
  decisions: [],
  secondReadings: [],
  questions: [],
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
