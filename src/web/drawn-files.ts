import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import type { FastifyInstance, FastifyReply } from 'fastify'
import sharp from 'sharp'
import type { Drawing } from '../drawing/drawing.ts'
import { takenAway } from '../drawing/taken-away.ts'

interface DrawnPicture {
  readonly id: string
  readonly title: string
  readonly how: string
  readonly drawing: Drawing
}

declare module 'fastify' {
  interface FastifyReply {
    /** A picture to take away, as its lines or as pixels; `from` says below it whose figures it shows. */
    drawn(picture: DrawnPicture, ending: DrawnEnding, from: string): Promise<FastifyReply>
  }
}

type DrawnEnding = 'svg' | 'png'

/** "picture-crops.svg" by its two parts; null where it names no picture. */
export function drawnName(name: string): { readonly id: string; readonly ending: DrawnEnding } | null {
  const [, id, ending] = /^([\w-]{1,60})\.(svg|png)$/.exec(name) ?? []
  return id && ending ? { id, ending: ending as DrawnEnding } : null
}

/** Pixels a unit of the frame: wide enough for a slide or a printed page. */
const pixelsAUnit = 4

/** `reply.drawn` answers with a picture as a file: on white whatever the reader's screen, its styles with it. */
export function addDrawnFiles(app: FastifyInstance, viewsFolder: string): void {
  const styles = stylesOf(join(viewsFolder, 'styles'))
  app.decorateReply(
    'drawn',
    async function drawn(this: FastifyReply, picture: DrawnPicture, ending: DrawnEnding, from: string) {
      const page = { picture, around: takenAway(picture.drawing, { ...picture, from }), styles }
      const svg = await this.viewAsync('/drawing/taken-away', page)
      this.header('content-disposition', `inline; filename="${picture.id}.${ending}"`)
      if (ending === 'svg') return this.type('image/svg+xml; charset=utf-8').send(svg)
      const pixels = await sharp(Buffer.from(svg), { density: 72 * pixelsAUnit })
        .png({ palette: true })
        .toBuffer()
      return this.type('image/png').send(pixels)
    },
  )
}

/** The styles of pictures on pages, without the layers and properties that programs other than browsers do not know. */
function stylesOf(folder: string): string {
  const known = new Map<string, string>()
  for (const line of linesOf(join(folder, '00-tokens.css'))) {
    const [name = '', value = ''] = line.trim().split(': ')
    // The first is the one of light pages.
    if (name.startsWith('--') && !known.has(name)) known.set(name, value.replace(';', ''))
  }
  const resolved = (text: string): string =>
    text.replace(/var\((--[\w-]+)\)/g, (_, name: string) => resolved(known.get(name) ?? 'inherit'))
  const lines = linesOf(join(folder, '30-pictures.css'))
  const drawn = lines.slice(0, lines.indexOf('@layer print {'))
  return resolved(drawn.filter((line) => !/^(@layer|\}$|\/\*)/.test(line)).join('\n'))
}

const linesOf = (file: string) => readFileSync(file, 'utf8').split('\n')
