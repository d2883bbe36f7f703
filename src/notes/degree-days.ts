/** A day's extremes in degrees Celsius. */
interface Extremes {
  readonly minimum: number
  readonly maximum: number
}

/**
 * Degree days of one day over a base, by the simple average: (maximum + minimum) / 2 - base, and none where the mean
 * lies under the base. McMaster & Wilhelm 1997, Agricultural and Forest Meteorology 87:291-300, their first reading of
 * the formula (the mean is compared with the base, not each extreme).
 */
export function degreeDaysByAverage({ minimum, maximum }: Extremes, base: number): number {
  return Math.max(0, (maximum + minimum) / 2 - base)
}

/**
 * Degree days of one day over a base, by the single sine: the area over the base under a sine that runs between the
 * day's extremes. Unlike the average it counts the warm hours of a day whose mean lies under the base. No upper
 * threshold. Baskerville & Emin 1969, Ecology 50:514-517.
 */
export function degreeDaysBySine({ minimum, maximum }: Extremes, base: number): number {
  if (maximum <= base) return 0
  const mean = (maximum + minimum) / 2
  if (minimum >= base) return mean - base
  const half = (maximum - minimum) / 2
  const crossing = Math.asin((base - mean) / half)
  return (half * Math.cos(crossing) - (base - mean) * (Math.PI / 2 - crossing)) / Math.PI
}
