/**
 * What 100,000 legs of 1,000 operators would take: computed from what board.ts measured, the board's own rules of age, and the platform's
 * published prices and limits. Arguments: legs, operators. Its output stands in DEVELOPERS.md.
 */
import { AGES, FLIGHTS_A_MESSAGE } from '../../worker/board/watch.ts';

const LEGS = Number(process.argv[2] ?? 100_000);
const OPERATORS = Number(process.argv[3] ?? 1000);

/** Of one flight worked out; tests/bench/board.ts prints them. */
const MEASURED = {
  on: '2026-11-28',
  cpuMs: 43,
  wallMs: 93,
  objectsRead: 0.21,
  /** Statements on D1, rows read and written: claim, settle, tails and what a brief reads, shared by a message's flights. */
  statements: 11.1,
  rowsRead: 28,
  rowsWritten: 4,
  /** Of its row on D1, with the evaluation. */
  rowBytes: 4900,
  /** Of its part of a delta. */
  deltaBytes: 2200,
};

/** developers.cloudflare.com, pricing and limits pages of Workers, D1, R2, Queues and Durable Objects, as looked up on 2026-11-28. */
const PRICES = {
  millionCpuMsUsd: 0.02,
  millionRequestsUsd: 0.3,
  millionRowsReadUsd: 0.001,
  millionRowsWrittenUsd: 1,
  gibMonthOnD1Usd: 0.75,
  millionReadsOnR2Usd: 0.36,
  millionQueueOperationsUsd: 0.4,
  millionRoomRequestsUsd: 0.15,
};
const LIMITS = {
  databaseGib: 10,
  /** "A query of 1 ms: 1,000 a second": one database works on one query at a time. */
  statementsAS: 1000,
  consumersAtOnce: 250,
  messagesAS: 5000,
  consumerCpuS: 300,
};

const MINUTE = 1;
const HOUR = 60 * MINUTE;
/** A flight is on the board from so long before its departure until it has arrived. */
const WATCHED_BEFORE_H = 30;
const WATCHED_AFTER_H = 2;
/** Flights stay for so many days. */
const KEPT_DAYS = 7;
/** A round of the schedule. */
const ROUND_MINUTES = 5;
/** Viewers of a board at once, and hours a day they look. */
const VIEWERS = 10;
const VIEWED_H = 16;
/** A message is written, read and deleted. */
const QUEUE_OPERATIONS = 3;
const DAYS_A_MONTH = 30;

/** Times that a flight is worked out for its age alone. */
function timesByAge(): number {
  let times = 0;
  let nearerH = -WATCHED_AFTER_H;
  for (const { withinMs, mostMs } of AGES) {
    const farH = withinMs / 3_600_000;
    times += ((farH - nearerH) * HOUR) / (mostMs / 60_000);
    nearerH = farH;
  }
  return times;
}

/** With reports in reach of every flight in every round: no flight is worked out more often. */
const mostTimes = ((WATCHED_BEFORE_H + WATCHED_AFTER_H) * HOUR) / ROUND_MINUTES;

interface Load {
  readonly name: string;
  /** A flight over its whole time on the board. */
  readonly times: number;
}

function row({ name, times }: Load) {
  const flightsADay = LEGS * times;
  const cpuMs = flightsADay * MEASURED.cpuMs;
  const messages = flightsADay / FLIGHTS_A_MESSAGE;
  const monthly = {
    cpu: (cpuMs * DAYS_A_MONTH * PRICES.millionCpuMsUsd) / 1e6,
    rows:
      (flightsADay *
        DAYS_A_MONTH *
        (MEASURED.rowsRead * PRICES.millionRowsReadUsd +
          MEASURED.rowsWritten * PRICES.millionRowsWrittenUsd)) /
      1e6,
    objects: (flightsADay * MEASURED.objectsRead * DAYS_A_MONTH * PRICES.millionReadsOnR2Usd) / 1e6,
    queue: (messages * QUEUE_OPERATIONS * DAYS_A_MONTH * PRICES.millionQueueOperationsUsd) / 1e6,
    rooms: (messages * DAYS_A_MONTH * PRICES.millionRoomRequestsUsd) / 1e6,
  };
  const usd = Object.values(monthly).reduce((sum, part) => sum + part, 0);
  return { name, times, flightsADay, cpuS: cpuMs / 1000, messages, monthly, usd };
}

const say = (line: string) => process.stdout.write(`${line}\n`);
const whole = (value: number) => Math.round(value).toLocaleString('en-US');

say(`${whole(LEGS)} legs a day, ${whole(OPERATORS)} operators; figures of a flight measured ${MEASURED.on}`);
say('');
say(
  '| a flight is worked out | times | CPU h a day | messages a day | USD a month: CPU | rows of D1 | R2 | queue, rooms | all |',
);
say('|---|---|---|---|---|---|---|---|---|');
for (const load of [
  { name: 'for its age alone', times: timesByAge() },
  { name: 'and on every hourly run', times: timesByAge() + WATCHED_BEFORE_H },
  { name: 'in every round (a report in reach each five minutes)', times: mostTimes },
]) {
  const { times, cpuS, messages, monthly, usd } = row(load);
  const cells = [load.name, whole(times), whole(cpuS / 3600), whole(messages)];
  const costs = [monthly.cpu, monthly.rows, monthly.objects, monthly.queue + monthly.rooms, usd].map(whole);
  say(`| ${[...cells, ...costs].join(' | ')} |`);
}
say('');
const atOnce = LEGS;
const roundS = ROUND_MINUTES * 60;
const statementsAS = (atOnce * MEASURED.statements) / roundS;
const storedGib = (LEGS * (KEPT_DAYS + 1) * MEASURED.rowBytes) / 2 ** 30;
const databases = Math.max(
  Math.ceil(statementsAS / (LIMITS.statementsAS / 2)),
  Math.ceil(storedGib / (LIMITS.databaseGib / 2)),
);
const consumers = Math.ceil((atOnce * MEASURED.wallMs) / 1000 / roundS);
say(`All of them within one round of ${ROUND_MINUTES} minutes (a new run reaches every flight):`);
say(
  `- consumers at once ${whole(consumers)} of ${LIMITS.consumersAtOnce}; messages ${whole(atOnce / FLIGHTS_A_MESSAGE / roundS)} a second of ${whole(LIMITS.messagesAS)}; CPU of a message ${((MEASURED.cpuMs * FLIGHTS_A_MESSAGE) / 1000).toFixed(1)} s of ${LIMITS.consumerCpuS}`,
);
say(
  `- statements on D1 ${whole(statementsAS)} a second; one database does about ${whole(LIMITS.statementsAS)} of 1 ms`,
);
say(
  `- stored ${storedGib.toFixed(1)} GiB of flights; a database holds ${LIMITS.databaseGib}, ${whole(storedGib * PRICES.gibMonthOnD1Usd)} USD a month`,
);
say(
  `- so ${databases} databases, each with the boards of ${whole(OPERATORS / databases)} operators (by a hash of the operator), half full and half busy`,
);
const legsABoard = LEGS / OPERATORS;
const toldMib = (legsABoard * MEASURED.deltaBytes * VIEWERS * ((VIEWED_H * HOUR) / 15)) / 2 ** 20;
say(
  `- live: a board of ${whole(legsABoard)} legs and ${VIEWERS} viewers is told ${whole(toldMib)} MiB a day; ${whole(OPERATORS * VIEWERS)} sockets in ${whole(OPERATORS)} rooms, of at most 2,000 each`,
);
