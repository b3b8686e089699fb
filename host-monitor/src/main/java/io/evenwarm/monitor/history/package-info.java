/**
 * What was: curves, spans and the log of events, and the ports through which they are asked for and
 * written. Knows no SQL and no window.
 */
@NullMarked
package io.evenwarm.monitor.history;

import org.jspecify.annotations.NullMarked;
