import type { PlantingRecord } from './trial-record.ts'

/**
 * A crop with its cultivar, as tables of crops name it. What stands over seasons and does not bear yet is a crop apart.
 */
export const cropName = ({
  crop,
  cultivar,
  establishing,
}: Pick<PlantingRecord, 'crop' | 'cultivar' | 'establishing'>) =>
  establishing ? `${crop}, ${cultivar}, establishing` : `${crop}, ${cultivar}`
