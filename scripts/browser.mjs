/**
 * A real Chromium for tests, with nothing installed by hand. Order: the path in WAYBENCH_BROWSER; the one that comes with the
 * dev dependencies (Linux x64); a Chrome or Chromium of the system. None: one plain sentence, and the run fails.
 */
import { existsSync, mkdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const modules = join(dirname(fileURLToPath(import.meta.url)), '..', 'node_modules')

const flags = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
]

const systemPlaces = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
]

async function unpackedInto(folder) {
  const before = process.env.TMPDIR
  process.env.TMPDIR = folder
  try {
    const { inflate } = await import('@sparticuz/chromium')
    const bin = join(modules, '@sparticuz', 'chromium', 'bin')
    for (const name of ['chromium.br', 'fonts.tar.br', 'swiftshader.tar.br', 'al2023.tar.br']) await inflate(join(bin, name))
  } finally {
    if (before === undefined) delete process.env.TMPDIR
    else process.env.TMPDIR = before
  }
}

async function packaged() {
  const manifest = join(modules, '@sparticuz', 'chromium', 'package.json')
  if (process.platform !== 'linux' || process.arch !== 'x64' || !existsSync(manifest)) return null
  const { version } = JSON.parse(readFileSync(manifest, 'utf8'))
  const home = join(modules, '.cache', `chromium-${version}`)
  if (!existsSync(home)) {
    // Unpacked aside and renamed, so that a run that was cut off leaves nothing half done.
    const aside = `${home}-${process.pid}`
    mkdirSync(aside, { recursive: true })
    await unpackedInto(aside)
    try {
      renameSync(aside, home)
    } catch (error) {
      if (!existsSync(home)) throw error
      rmSync(aside, { recursive: true, force: true })
    }
  }
  return {
    executablePath: join(home, 'chromium'),
    env: {
      ...process.env,
      LD_LIBRARY_PATH: join(home, 'al2023', 'lib'),
      FONTCONFIG_PATH: fontConfig(home),
      LANG: 'en_US.UTF-8',
    },
  }
}

/**
 * Folder with a font configuration that finds the packaged fonts. The one in the package looks in other places and finds none; the
 * browser then dies at the first text whose font is left to it, such as that of a select.
 */
function fontConfig(home) {
  const folder = join(home, 'fontconfig')
  mkdirSync(folder, { recursive: true })
  const places = [`<dir>${join(home, 'fonts', 'fonts')}</dir>`, `<cachedir>${join(folder, 'cache')}</cachedir>`]
  const text = `<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig>${places.join('')}</fontconfig>\n`
  writeFileSync(join(folder, 'fonts.conf'), text)
  return folder
}

/**
 * Launch options of the browser that this machine has. Throws when there is none.
 * @returns {Promise<import('playwright-core').LaunchOptions>}
 */
export async function browserOptions() {
  const asked = process.env.WAYBENCH_BROWSER
  if (asked !== undefined && !existsSync(asked)) throw new Error(`WAYBENCH_BROWSER names ${asked}, and there is no such file.`)
  const found = asked !== undefined ? { executablePath: asked } : await packaged()
  const options = found ?? systemPlaces.filter((place) => existsSync(place)).map((executablePath) => ({ executablePath }))[0]
  if (!options) {
    throw new Error('No browser for the tests: install Google Chrome or Chromium, or set WAYBENCH_BROWSER to the path of one.')
  }
  return { ...options, headless: true, args: flags }
}

/** @returns {Promise<import('playwright-core').Browser>} */
export async function browserLaunch() {
  const { chromium } = await import('playwright-core')
  return chromium.launch(await browserOptions())
}
