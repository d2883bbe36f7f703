/** What a comparison is computed from: whole numbers only, rows ordered by key. Areas in cm2, weights in g, time in min. */
export interface TrialRecord {
  readonly seasons: readonly { id: string; name: string; startsOn: string; endsOn: string; closed: boolean }[]
  readonly methods: readonly { id: string; name: string }[]
  readonly gardens: readonly { id: string; name: string; grossAreaCm2: number }[]
  readonly beds: readonly { id: string; gardenId: string; areaCm2: number }[]
  readonly assignments: readonly AssignmentRecord[]
  readonly plantings: readonly PlantingRecord[]
  readonly losses: readonly LossRecord[]
  readonly labour: readonly LabourRecord[]
  readonly spreadings: readonly SpreadingRecord[]
  readonly closings: readonly { gardenId: string; isoWeek: string; what: string }[]
}

export interface AssignmentRecord {
  readonly seasonId: string
  readonly gardenId: string
  readonly bedId: string | null
  readonly methodId: string
  readonly how?: string
  readonly phase?: string
}

export interface LossRecord {
  readonly plantingId: string
  readonly lostOn: string
  readonly sharePermille: number
  readonly cause?: string
  /** The cause lay outside the method: said before the season closed. */
  readonly outsideMethod?: boolean
  readonly alsoNextDoor?: string | null
}

export interface PlantingRecord {
  readonly id: string
  readonly seasonId: string
  readonly bedId: string
  readonly crop: string
  readonly cultivar: string
  readonly matchedSetId: string | null
  readonly areaCm2: number
  readonly purpose: string
  readonly cleared: boolean
  readonly marketableG: number
  readonly unmarketableG: number
}

export interface LabourRecord {
  readonly seasonId: string
  readonly task: string
  readonly phase: string
  readonly personMinutes: number
  /** The beds it was spent on; divided over them by area, exactly. */
  readonly bedIds: readonly string[]
}

export interface SpreadingRecord {
  readonly seasonId: string
  /** Whole minor units of this spreading; null while the delivery has no price. */
  readonly costMinor: number | null
  readonly usefulLifeSeasons: number
  readonly bedIds: readonly string[]
}
