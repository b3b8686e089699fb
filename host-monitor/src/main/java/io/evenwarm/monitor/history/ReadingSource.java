package io.evenwarm.monitor.history;

import java.io.IOException;

/** Gives readings one by one. */
@FunctionalInterface
public interface ReadingSource {
    void into(ReadingSink sink) throws IOException;
}
