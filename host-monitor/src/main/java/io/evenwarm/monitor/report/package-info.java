/**
 * Between history and what people see of it: reads what a cabinet's long record says of its air,
 * holds what an outage came to with all that belongs to it, and makes pictures of plain shapes that
 * pages and the window draw alike.
 *
 * <p>Asks {@link io.evenwarm.monitor.history.HistoryQueries}; knows no window, file, clock or SQL.
 */
@NullMarked
package io.evenwarm.monitor.report;

import org.jspecify.annotations.NullMarked;
