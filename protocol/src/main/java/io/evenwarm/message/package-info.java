/**
 * What both ends mean by cabinet, probe, reading, finding, command and outcome: immutable records
 * and sealed families of them.
 *
 * <p>Knows nothing of encodings, links, drivers, windows or stores. Any thread may use these.
 */
@NullMarked
package io.evenwarm.message;

import org.jspecify.annotations.NullMarked;
