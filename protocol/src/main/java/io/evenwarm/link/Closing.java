package io.evenwarm.link;

import java.io.Closeable;
import java.io.IOException;
import org.jspecify.annotations.Nullable;

/** Ends the use of things whose failure to close changes nothing. */
final class Closing {

    private Closing() {}

    static void quietly(@Nullable Closeable closeable) {
        if (closeable == null) {
            return;
        }
        try {
            closeable.close();
        } catch (IOException e) {
            // It was not to be used any more, whatever became of it.
        }
    }
}
