/**
 * Probes behind a microcontroller on a serial line; {@code hardware-notes/probe-board.md} says what
 * it sends.
 */
@NullMarked
package io.evenwarm.agent.driver.serial;

import org.jspecify.annotations.NullMarked;
