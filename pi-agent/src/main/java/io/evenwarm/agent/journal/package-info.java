/**
 * The agent's durable record of what the cabinets did, in SQLite. Sees snapshots only.
 *
 * <p>A failing journal is reported and changes no output decision.
 */
@NullMarked
package io.evenwarm.agent.journal;

import org.jspecify.annotations.NullMarked;
