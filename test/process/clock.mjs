// Loaded before a service: its clock goes wrong by the milliseconds that stand in the file EVENGROUND_TEST_CLOCK names.
import { readFileSync } from 'node:fs'

const Right = Date
let off = 0
const look = () => {
  try {
    off = Number(readFileSync(process.env.EVENGROUND_TEST_CLOCK, 'utf8')) || 0
  } catch {
    off = 0
  }
}
look()
setInterval(look, 50).unref()

globalThis.Date = class extends Right {
  constructor(...given) {
    if (given.length === 0) super(Right.now() + off)
    else super(...given)
  }
  static now() {
    return Right.now() + off
  }
}
