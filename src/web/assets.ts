import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { constants, gzipSync } from 'node:zlib'
import type { FastifyInstance } from 'fastify'
import { isPackable, sendEither } from './packed-answers.ts'

export interface Assets {
  readonly stylesAddress: string
  readonly scriptAddress: string
  /** The faces that every page needs at once. */
  readonly faceAddresses: readonly string[]
  /** The service's own mark, as a drawing and in the sizes that a phone asks for. */
  readonly icons: Readonly<Record<'mark' | 'small' | 'large' | 'touch', string>>
}

/** Joins styles and scripts in name order and serves each at an address made from its contents, kept for a year. */
export function serveAssets(app: FastifyInstance, viewsFolder: string): Assets {
  const faces = serveAll(app, join(viewsFolder, 'faces'), { ending: 'woff2', type: 'font/woff2' })
  const icons = join(viewsFolder, 'icons')
  const pictures = new Map([
    ...serveAll(app, icons, { ending: 'svg', type: 'image/svg+xml' }),
    ...serveAll(app, icons, { ending: 'png', type: 'image/png' }),
  ])
  const icon = (name: string) => pictures.get(name) ?? missing(`icon ${name}`)
  const styles = joined(join(viewsFolder, 'styles'), 'css').replace(
    /face:([\w-]+)/g,
    (_, name: string) => faces.get(name) ?? missing(`face ${name}`),
  )
  return {
    stylesAddress: serve(app, styles, { ending: 'css', type: 'text/css; charset=utf-8' }),
    scriptAddress: serve(app, joined(join(viewsFolder, 'scripts'), 'js'), {
      ending: 'js',
      type: 'text/javascript; charset=utf-8',
    }),
    faceAddresses: [...faces].filter(([name]) => !name.endsWith('-ext')).map(([, address]) => address),
    icons: { mark: icon('mark'), small: icon('small'), large: icon('large'), touch: icon('touch') },
  }
}

function missing(what: string): never {
  throw new Error(`No ${what}`)
}

interface Kind {
  readonly ending: string
  readonly type: string
}

function serveAll(app: FastifyInstance, folder: string, kind: Kind): Map<string, string> {
  const names = readdirSync(folder).filter((name) => name.endsWith(`.${kind.ending}`))
  return new Map(
    names
      .sort()
      .map((name) => [name.replace(`.${kind.ending}`, ''), serve(app, readFileSync(join(folder, name)), kind)]),
  )
}

function joined(folder: string, ending: string): string {
  const names = readdirSync(folder).filter((name) => name.endsWith(`.${ending}`))
  return names
    .sort()
    .map((name) => readFileSync(join(folder, name), 'utf8'))
    .join('\n')
}

function serve(app: FastifyInstance, body: string | Buffer, { ending, type }: Kind): string {
  const address = `/assets/${createHash('sha256').update(body).digest('hex').slice(0, 16)}.${ending}`
  const plain = Buffer.from(body)
  const gzip = isPackable(type) ? gzipSync(plain, { level: constants.Z_BEST_COMPRESSION }) : plain
  app.get(address, { config: { access: 'public', forNobody: true } }, (_request, reply) => {
    void reply.header('cache-control', 'public, max-age=31536000, immutable').type(type)
    return gzip.length < plain.length ? sendEither(reply, { plain, gzip }) : reply.send(plain)
  })
  return address
}
