package io.evenwarm.frame;

/**
 * How many frames were discarded, by what was wrong with them.
 *
 * @param aborted ended in an escape: given up by the sender, or cut (RFC 1662 s.4.3)
 * @param tooShort no room for a payload and its checksum
 * @param tooLong more than {@value FrameWriter#MAX_PAYLOAD_OCTETS} octets of payload
 * @param badChecksum payload and checksum do not belong together
 */
public record FrameFaults(long aborted, long tooShort, long tooLong, long badChecksum) {

    /** Nothing discarded. */
    public static final FrameFaults NONE = new FrameFaults(0, 0, 0, 0);

    /** All kinds together. */
    public long total() {
        return aborted + tooShort + tooLong + badChecksum;
    }

    FrameFaults plusAborted() {
        return new FrameFaults(aborted + 1, tooShort, tooLong, badChecksum);
    }

    FrameFaults plusTooShort() {
        return new FrameFaults(aborted, tooShort + 1, tooLong, badChecksum);
    }

    FrameFaults plusTooLong() {
        return new FrameFaults(aborted, tooShort, tooLong + 1, badChecksum);
    }

    FrameFaults plusBadChecksum() {
        return new FrameFaults(aborted, tooShort, tooLong, badChecksum + 1);
    }
}
