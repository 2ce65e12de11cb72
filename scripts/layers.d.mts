export function layerBreaches(root: string): { file: string; imports: string; why: string }[]
