interface Standing {
  readonly bedId: string
  readonly areaCm2: number
  readonly interplanted: number
  readonly sownOn: string | null
  readonly plantedOn: string | null
  readonly clearedOn: string | null
}

/** The area of a bed still free on a day, in cm2; what is interplanted takes no room of its own. */
export function roomLeft(bedAreaCm2: number, bedId: string, plantings: readonly Standing[], day: string): number {
  const standing = plantings.filter(
    (planting) =>
      planting.bedId === bedId &&
      planting.interplanted === 0 &&
      (planting.sownOn ?? planting.plantedOn ?? day) <= day &&
      (planting.clearedOn === null || planting.clearedOn > day),
  )
  return standing.reduce((room, planting) => room - planting.areaCm2, bedAreaCm2)
}
