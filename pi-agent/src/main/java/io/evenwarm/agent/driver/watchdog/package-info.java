/**
 * Who ends the agent when it falls silent: the service manager by its notify protocol, and the
 * kernel's watchdog device. The only user of JNA.
 */
@NullMarked
package io.evenwarm.agent.driver.watchdog;

import org.jspecify.annotations.NullMarked;
