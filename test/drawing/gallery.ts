// Writes all pictures with sample figures into one page to look at: npm run gallery
import { writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { galleryOf } from './rendering.ts'
import { samplePictures } from './samples.ts'

const file = join(tmpdir(), 'evenground-pictures.html')
writeFileSync(file, galleryOf(samplePictures()))
process.stdout.write(`${file}\n`)
