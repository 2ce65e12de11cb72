import { Colors, DxfWriter, LineTypes, LWPolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf'
import { traceLayers } from '../../core/deliver/index.ts'
import type { TraceItem, TraceLayer } from '../../core/deliver/index.ts'
import type { Point } from '../../core/geom/index.ts'

const degrees = 180 / Math.PI
const inchMm = 25.4

/** Colours by what is drawn: room yellow-brown, lines red, rails in the colour of the ground, the rest grey. */
const colours: { readonly [L in TraceLayer]: number } = {
  wall: Colors.White,
  obstacle: Colors.White,
  benchwork: Colors.Yellow,
  hatch: Colors.Yellow,
  joist: 8,
  centreline: Colors.Red,
  'rail-gauge': Colors.White,
  'rail-head': Colors.White,
  'rail-foot': 8,
  tie: 9,
  gap: Colors.Red,
  'throw-hole': Colors.Blue,
  cut: Colors.Red,
  name: Colors.Cyan,
}

/**
 * A tracing as a DXF file: lines, arcs, polylines and texts on layers by name, in millimetres or inches, which the file declares.
 *
 * Exactness:  numbers are written with all digits that the library gives.
 */
export function dxfWrite(items: readonly TraceItem[], unit: 'mm' | 'in'): string {
  const dxf = new DxfWriter()
  dxf.setUnits(unit === 'mm' ? Units.Millimeters : Units.Inches)
  // The library puts its maker's name there.
  dxf.setVariable('$LASTSAVEDBY', { 1: 'Waybench' })
  const by = unit === 'mm' ? 1 : 1 / inchMm
  const used = new Set(items.map(({ layer }) => layer))
  for (const layer of traceLayers) if (used.has(layer)) dxf.addLayer(layer, colours[layer], LineTypes.Continuous)
  const place = ({ x, y }: Point) => point3d(x * by, y * by, 0)
  for (const { layer, shape } of items) {
    const options = { layerName: layer }
    switch (shape.kind) {
      case 'line':
        dxf.addLine(place(shape.from), place(shape.to), options)
        break
      case 'arc':
        if (shape.toRad - shape.fromRad >= 2 * Math.PI) dxf.addCircle(place(shape.centre), shape.radiusMm * by, options)
        else dxf.addArc(place(shape.centre), shape.radiusMm * by, shape.fromRad * degrees, shape.toRad * degrees, options)
        break
      case 'polyline':
        dxf.addLWPolyline(
          shape.points.map(({ x, y }) => ({ point: point2d(x * by, y * by) })),
          { ...options, flags: shape.isClosed ? LWPolylineFlags.Closed : LWPolylineFlags.None },
        )
        break
      case 'text':
        dxf.addText(place(shape.at), shape.heightMm * by, shape.text.replaceAll(/\s+/g, ' '), {
          ...options,
          rotation: shape.angleRad * degrees,
        })
        break
    }
  }
  return dxf.stringify()
}
