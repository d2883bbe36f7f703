import { Socket } from 'node:net'

type Done = (error?: Error | null) => void

/**
 * A socket that hands on what is written to it in one moment as one piece: each piece wakes the server, which takes
 * longer than to put it together.
 */
export class GatheringSocket extends Socket {
  override write(piece: Uint8Array | string, encoding?: BufferEncoding | Done, done?: Done): boolean {
    this.cork()
    const isRoom = typeof encoding === 'function' ? super.write(piece, encoding) : super.write(piece, encoding, done)
    this.uncork()
    return isRoom
  }

  override uncork(): void {
    process.nextTick(() => super.uncork())
  }
}
