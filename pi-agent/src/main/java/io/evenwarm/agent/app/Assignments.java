package io.evenwarm.agent.app;

import io.evenwarm.settings.TomlSection;
import java.util.HashMap;
import java.util.Map;

/** Who uses which line and which sensor, over all cabinets of a file. */
final class Assignments {

    private final Map<String, TomlSection> users = new HashMap<>();

    /**
     * Takes a line or an address for a table of the file; adds a fault when it is taken already.
     *
     * @param kind keeps the names of different drivers apart
     */
    void take(String kind, String what, TomlSection user, String key) {
        TomlSection before = users.putIfAbsent(kind + " " + what, user);
        if (before != null) {
            user.fault(
                    key,
                    "one that nothing else uses; it is taken by "
                            + before.path()
                            + " on line "
                            + before.lineOf(key));
        }
    }
}
