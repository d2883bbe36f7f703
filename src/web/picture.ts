import sharp from 'sharp'

export interface Photo {
  readonly kind: 'answer'
  readonly jpeg: Uint8Array
  readonly width: number
  readonly height: number
}

/** The longer side of a stored picture, in pixels: enough to count shoots on, small enough to load in a garden. */
const longest = 2000
/** More than cameras make; a small file can say that it holds a hundred times that. */
const mostPixels = 60_000_000
const formats = ['jpeg', 'png', 'webp']

/**
 * Makes a picture anew from its pixels: turned upright, at most 2000 pixels long, as JPEG. Whatever else the file
 * carried is left behind, so where it was taken, when and with which telephone. Refuses what is no JPEG, PNG or WebP,
 * whatever its name.
 */
export async function madeAnew(bytes: Uint8Array, most = mostPixels): Promise<Photo | { readonly kind: 'refused' }> {
  try {
    const read = sharp(bytes, { limitInputPixels: most, failOn: 'error' })
    // Of its head alone: how large it would be is known before a pixel is made.
    const { format, width, height, pages = 1 } = await read.metadata()
    if (!formats.includes(format) || width * height * pages > most) return { kind: 'refused' }
    const { data, info } = await read
      .rotate()
      .resize({ width: longest, height: longest, fit: 'inside', withoutEnlargement: true })
      .flatten({ background: '#ffffff' })
      .jpeg({ quality: 82 })
      .toBuffer({ resolveWithObject: true })
    return { kind: 'answer', jpeg: data, width: info.width, height: info.height }
  } catch {
    return { kind: 'refused' }
  }
}
