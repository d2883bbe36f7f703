import { type PictureKey, pictureKeys } from '../comparison/pictures/picture-keys.ts'
import type { Section } from './sections.ts'

/**
 * In a new report, until a keeper unticks them: what somebody asks first who sees such a comparison for the first time.
 */
export const firstPictures: readonly PictureKey[] = ['seasons', 'crops']

/** The part at which a picture stands, where the report has that part. */
export const sectionOfPicture: Readonly<Record<PictureKey, Section | null>> = {
  yields: 'measures',
  seasons: 'seasons',
  ways: 'seasons',
  crops: 'matched',
  gap: 'why',
  labour: 'why',
  running: 'why',
  losses: 'why',
}

/** Reports of before pictures could be chosen have none. */
export const picturesIn = (stored: unknown): readonly PictureKey[] =>
  Array.isArray(stored) ? pictureKeys.filter((key) => stored.includes(key)) : []

/** Of how many seasons a picture is drawn, where that matters. */
export function takes(key: PictureKey): 'ofSeveral' | 'ofOne' | null {
  if (key === 'seasons' || key === 'ways') return 'ofSeveral'
  return key === 'yields' || key === 'losses' ? null : 'ofOne'
}

type WhyNot = 'ofSeveral' | 'ofOne' | 'notCarried'

/** What was chosen and could not be drawn, by the reason. */
export function leftOut(
  chosen: readonly PictureKey[],
  drawn: readonly PictureKey[],
  seasons: number,
): { readonly why: WhyNot; readonly pictures: readonly PictureKey[] }[] {
  const missing = chosen.filter((key) => !drawn.includes(key))
  return (['ofSeveral', 'ofOne', 'notCarried'] as const).flatMap((why) => {
    const pictures = missing.filter((key) => whyNot(key, seasons) === why)
    return pictures.length > 0 ? [{ why, pictures }] : []
  })
}

function whyNot(key: PictureKey, seasons: number): WhyNot {
  const wrong = seasons > 1 ? 'ofOne' : 'ofSeveral'
  return takes(key) === wrong ? wrong : 'notCarried'
}
