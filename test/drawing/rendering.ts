import { readdirSync, readFileSync } from 'node:fs'
import { Eta } from 'eta'
import type { Picture } from '../../src/comparison/pictures/picture.ts'

const eta = new Eta({ views: 'views', cache: true, autoTrim: [false, 'nl'] })

/** A picture with its table, as a page holds it. */
export const figureOf = (picture: Picture) => eta.render('/drawing/picture', { picture })

export const svgOf = (picture: Picture) => /<svg[\s\S]*<\/svg>/.exec(figureOf(picture))?.[0] ?? ''

/** All pictures on one page with the service's own styles. */
export function galleryOf(pictures: readonly Picture[], more = ''): string {
  const names = readdirSync('views/styles').sort()
  const styles = names.map((name) => readFileSync(`views/styles/${name}`, 'utf8')).join('\n')
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Pictures</title><style>${styles}${more}</style></head><body><main><h1>Pictures</h1><div class="pictures">
${pictures.map((picture) => `<div>${figureOf(picture)}</div>`).join('\n')}</div></main></body></html>`
}
