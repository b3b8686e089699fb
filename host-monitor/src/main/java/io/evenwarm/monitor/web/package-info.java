/**
 * The phone page: every cabinet on one page of a browser, and alarms to acknowledge.
 *
 * <p>Sees the live model, the history and the open alarms; knows no link, no store and no window.
 * The only place that knows the web server. Whoever has no session learns nothing here.
 */
@NullMarked
package io.evenwarm.monitor.web;

import org.jspecify.annotations.NullMarked;
