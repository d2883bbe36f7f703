/** What labour is written down under; the words of the glossary. */
export const taskNames = [
  'raising seedlings',
  'preparing beds',
  'carrying materials',
  'spreading mulch or compost',
  'making compost',
  'sowing',
  'planting',
  'weeding',
  'watering',
  'feeding',
  'pest care',
  'training and pruning',
  'harvest',
  'washing and packing',
  'clearing',
  'paths and edges',
  'tools and fences',
  'recording',
  'other',
] as const

export type Task = (typeof taskNames)[number]

/** Work that scales with the crop; all other work scales with the ground. */
export const harvestTasks: readonly Task[] = ['harvest', 'washing and packing']
