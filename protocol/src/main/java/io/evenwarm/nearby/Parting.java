package io.evenwarm.nearby;

import java.io.IOException;
import java.lang.System.Logger.Level;
import java.util.List;
import javax.jmdns.JmDNS;

/** Ends responders, which say goodbye three times and take seconds for it. */
final class Parting {

    private static final System.Logger LOG = System.getLogger(Parting.class.getName());

    private Parting() {}

    /** Returns at once; the goodbyes go out behind it, unless the process ends before. */
    static void of(List<JmDNS> responders) {
        for (JmDNS responder : responders) {
            Thread thread =
                    new Thread(
                            () -> {
                                try {
                                    responder.close();
                                } catch (IOException | RuntimeException e) {
                                    LOG.log(Level.DEBUG, "closing a responder", e);
                                }
                            },
                            "nearby end");
            thread.setDaemon(true);
            thread.start();
        }
    }
}
