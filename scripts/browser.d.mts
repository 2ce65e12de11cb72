import type { Browser, LaunchOptions } from 'playwright-core'

export function browserOptions(): Promise<LaunchOptions>
export function browserLaunch(): Promise<Browser>
