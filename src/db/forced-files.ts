import { closeSync, fsyncSync, openSync } from 'node:fs'
import { open, readdir } from 'node:fs/promises'
import { join } from 'node:path'
import { PGlite, type PGliteOptions } from '@electric-sql/pglite'
import { NodeFS } from '@electric-sql/pglite/nodefs'
import { codeOf } from './constraint.ts'

/** Waits until the disk has a file or folder; `file` is an open one. */
export type Force = (file: number, path: string) => void

const byTheSystem: Force = (file) => fsyncSync(file)
const filesAtOnce = 16

/** What of the engine's own layer of files is reached for: it has a place for forcing, and nothing in it. */
interface Stream {
  readonly nfd?: number
  readonly node: object
}
interface EngineFiles {
  readonly realPath: (node: object) => string
  readonly stream_ops: { fsync?: (stream: Stream) => number }
}

/** Numbers of errors as WASI has them: what is not supported is passed over for folders, all else ends the engine. */
const [invalid, inputOutput] = [28, 29]

class ForcedFiles extends NodeFS {
  private readonly force: Force

  constructor(folder: string, force: Force) {
    super(folder)
    this.force = force
  }

  override async init(...given: Parameters<NodeFS['init']>) {
    const { emscriptenOpts } = await super.init(...given)
    const reach = (module: object) => {
      const files: EngineFiles = Reflect.get(module, 'NODEFS')
      files.stream_ops.fsync = (stream) => this.forceOne(files, stream)
    }
    return { emscriptenOpts: { ...emscriptenOpts, preRun: [emscriptenOpts.preRun ?? [], reach].flat() } }
  }

  private forceOne(files: EngineFiles, { nfd, node }: Stream): number {
    const path = files.realPath(node)
    try {
      if (nfd === undefined) forceNamed(path, this.force)
      else this.force(nfd, path)
      return 0
    } catch (error) {
      return codeOf(error) === 'EINVAL' ? invalid : inputOutput
    }
  }
}

function forceNamed(path: string, force: Force): void {
  const file = openSync(path, 'r')
  try {
    force(file, path)
  } finally {
    closeSync(file)
  }
}

/**
 * What the engine is given so that a commit is answered when the disk has it. It ships with forcing off; its files can
 * be forced one by one (`fsync`), while the usual `fdatasync` of its compiler does nothing at all.
 */
export const forcing = (folder: string, force: Force = byTheSystem): PGliteOptions => ({
  fs: new ForcedFiles(folder, force),
  startParams: [
    ...PGlite.defaultStartParams.filter((one) => one !== '-F'),
    '-c',
    'fsync=on',
    '-c',
    'wal_sync_method=fsync',
  ],
})

/** What was written into a folder before the engine forced anything: all of it, several files at a time. */
export async function forceAll(folder: string): Promise<void> {
  const entries = await readdir(folder, { withFileTypes: true, recursive: true })
  const paths = entries
    .filter((entry) => entry.isFile() || entry.isDirectory())
    .map((entry) => join(entry.parentPath, entry.name))
  const left = [...paths, folder]
  const one = async () => {
    for (let path = left.pop(); path !== undefined; path = left.pop()) {
      const file = await open(path, 'r')
      try {
        await file.sync()
      } finally {
        await file.close()
      }
    }
  }
  await Promise.all(Array.from({ length: filesAtOnce }, one))
}
