package io.evenwarm.settings;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;

/** Collects the faults of one or more files, so that a person hears of all of them at once. */
public final class SettingsFaults {

    /** Enough for a person; a file with more faults is not a settings file. */
    static final int MAX_FAULTS = 200;

    private final List<SettingsFault> faults = new ArrayList<>();
    private int errorCount;

    /** Adds one; after {@value #MAX_FAULTS} further ones are counted but not kept. */
    public void add(SettingsFault fault) {
        if (fault.isError()) {
            errorCount++;
        }
        if (faults.size() < MAX_FAULTS && !faults.contains(fault)) {
            faults.add(fault);
        }
    }

    /** Adds an error about a file as a whole. */
    public void addAboutFile(String file, String found, String allowed) {
        add(new SettingsFault(SettingsFault.Severity.ERROR, file, 0, "", found, allowed));
    }

    public boolean hasErrors() {
        return errorCount > 0;
    }

    /** What makes the files unusable, in the order of their lines. */
    public List<SettingsFault> errors() {
        return sorted(SettingsFault.Severity.ERROR);
    }

    /** What a person should know of, in the order of their lines. */
    public List<SettingsFault> warnings() {
        return sorted(SettingsFault.Severity.WARNING);
    }

    private List<SettingsFault> sorted(SettingsFault.Severity severity) {
        return faults.stream()
                .filter(fault -> fault.severity() == severity)
                .sorted(
                        Comparator.comparing(SettingsFault::file)
                                .thenComparingInt(SettingsFault::line))
                .toList();
    }
}
