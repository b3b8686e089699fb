/**
 * Whether a person must be told of something: the alarm life cycle of ISA-18.2 and IEC 62682 as a
 * pure state machine, and what it judges from.
 *
 * <p>Knows no clock, thread, file, log, window or SQL: it is given {@link
 * io.evenwarm.monitor.alarm.Now} with everything that happens. Durations are monotonic, so a wall
 * clock that is set in the middle of a delay changes nothing; wall times are only for people. The
 * front is {@link io.evenwarm.monitor.alarm.AlarmDesk}; whoever calls it writes its changes into
 * the log and hands them to whatever tells people. One thread at a time.
 *
 * <p>The standards' texts are cited from memory where no other source is named.
 */
@NullMarked
package io.evenwarm.monitor.alarm;

import org.jspecify.annotations.NullMarked;
