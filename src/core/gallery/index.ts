export { galleryPiece } from './piece.ts'
export { galleryKeys } from './types.ts'
export type { GalleryFigure, GalleryKey, GalleryPiece, GalleryProblem } from './types.ts'
