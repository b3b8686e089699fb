package io.evenwarm.monitor.history;

import java.io.IOException;

/** Takes readings one by one. */
@FunctionalInterface
public interface ReadingSink {
    void accept(StoredReading reading) throws IOException;
}
