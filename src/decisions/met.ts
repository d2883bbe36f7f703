import type { Task } from '../diary/tasks.ts'

interface MetCode {
  readonly code: string
  /** Metabolic equivalents in tenths: 45 for 4.5. */
  readonly tenths: number
}

const gardening: MetCode = { code: '08245', tenths: 38 }
const digging: MetCode = { code: '08050', tenths: 50 }
const planting: MetCode = { code: '08145', tenths: 43 }

/**
 * How strenuous work is, by the code of the compendium that says most nearly what is done; null where none does.
 * Ainsworth and others, 2011 Compendium of Physical Activities, Medicine and Science in Sports and Exercise
 * 43:1575-1581; a later edition of 2024 changes some. A mean of adults: a person may lie 20 to 30 per cent away.
 */
export const metOfTask: Record<Task, MetCode | null> = {
  'raising seedlings': { code: '08135', tenths: 20 },
  'preparing beds': digging,
  'carrying materials': { code: '08255', tenths: 55 },
  'spreading mulch or compost': { code: '08192', tenths: 55 },
  'making compost': digging,
  sowing: planting,
  planting: { code: '08140', tenths: 43 },
  weeding: { code: '08240', tenths: 45 },
  watering: { code: '08230', tenths: 15 },
  feeding: gardening,
  'pest care': gardening,
  'training and pruning': gardening,
  harvest: { code: '08246', tenths: 35 },
  'washing and packing': null,
  clearing: gardening,
  'paths and edges': { code: '08261', tenths: 40 },
  'tools and fences': null,
  recording: null,
  other: null,
}
