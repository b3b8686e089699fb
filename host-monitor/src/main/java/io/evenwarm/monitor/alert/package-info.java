/**
 * Alarms at work: feeds the alarm desk with what is live, keeps its log and its state, tells the
 * notices of each event, and answers people.
 *
 * <p>Decides nothing about alarms by itself: that is {@code alarm}'s. Knows no window, no channel
 * and no SQL; what keeps the log stands behind {@link io.evenwarm.monitor.alert.AlarmStore}.
 */
@NullMarked
package io.evenwarm.monitor.alert;

import org.jspecify.annotations.NullMarked;
