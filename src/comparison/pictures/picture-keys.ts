/** The pictures of a comparison, in the order in which they stand. */
export const pictureKeys = ['yields', 'seasons', 'ways', 'crops', 'gap', 'labour', 'running', 'losses'] as const

export type PictureKey = (typeof pictureKeys)[number]
