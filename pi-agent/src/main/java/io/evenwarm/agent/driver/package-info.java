/** What drivers share: the reader that serves one bus at the bus's own pace. */
@NullMarked
package io.evenwarm.agent.driver;

import org.jspecify.annotations.NullMarked;
