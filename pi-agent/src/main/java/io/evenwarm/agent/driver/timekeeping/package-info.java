/** What the kernel knows of its clock. */
@NullMarked
package io.evenwarm.agent.driver.timekeeping;

import org.jspecify.annotations.NullMarked;
