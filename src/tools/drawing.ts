import type { ToolName } from '../store/types.ts'
import { benchworkTool } from './outline/benchwork.ts'
import { guideTool } from './outline/guide.ts'
import { hatchTool } from './outline/hatch.ts'
import { holeTool } from './outline/hole.ts'
import { joistTool } from './outline/joist.ts'
import { wallTool } from './outline/wall.ts'
import { measureTool } from './measure/tool.ts'
import { openingTool } from './room/opening.ts'
import { portalTool } from './room/portal.ts'
import { running, type RunningTool } from './running.ts'
import { surveyTool } from './survey/tool.ts'
import { trackTool } from './track/tool.ts'
import { turnoutTool } from './turnout/tool.ts'

/** The tools that something new is drawn or measured with, each in its first state. A tool name without a tool does not compile. */
export function drawingTools(): { readonly [T in Exclude<ToolName, 'select'>]: RunningTool } {
  return {
    benchwork: running(benchworkTool),
    hole: running(holeTool),
    wall: running(wallTool),
    opening: running(openingTool),
    hatch: running(hatchTool),
    joist: running(joistTool),
    portal: running(portalTool),
    track: running(trackTool),
    turnout: running(turnoutTool),
    survey: running(surveyTool),
    measure: running(measureTool),
    guide: running(guideTool),
  }
}
