package io.evenwarm.monitor.app;

import java.util.Optional;
import picocli.CommandLine.IVersionProvider;

/** This program's version, from its jar. */
final class Version implements IVersionProvider {

    static String text() {
        return Optional.ofNullable(Version.class.getPackage().getImplementationVersion())
                .orElse("(unpacked)");
    }

    @Override
    public String[] getVersion() {
        return new String[] {"evenwarm " + text()};
    }
}
