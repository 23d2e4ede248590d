export { type ChannelRow, channelSchedule, formatChannels } from "./channels.ts";
export { type DrawPlanOptions, drawPlan } from "./drawPlan.ts";
export {
	formatSchedule,
	loopSchedule,
	type ScheduleOptions,
	type ScheduleRow,
	type ScheduleTotals,
	scheduleTotals,
} from "./schedule.ts";
export { type Theme, type Tokens, tokens } from "./tokens.ts";
